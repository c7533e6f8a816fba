// What the station remembered, as a file.
#include "daemon/replay/memory_file.h"
#include "daemon/replay/playback.h"

#include <gtest/gtest.h>

#include <fstream>

#include <unistd.h>

namespace tripline::replay {
namespace {

class AMemoryFile : public testing::Test {
protected:
    void TearDown() override { std::filesystem::remove(file_); }
    void write(const std::string& text) const { std::ofstream(file_) << text; }

    std::filesystem::path file_ = std::filesystem::temp_directory_path() / ("tripline-memory-" + std::to_string(::getpid()));
};

TEST_F(AMemoryFile, GivesBackWhatWasWritten) {
    std::vector<std::byte> bytes;
    for (int i = 0; i < 1000; ++i) bytes.push_back(static_cast<std::byte>(i * 7));
    write(memory_text(Hertz{48000}, bytes));
    EXPECT_EQ(read_memory(file_, Hertz{48000}), bytes);
}

TEST_F(AMemoryFile, IsRefusedWhenItIsOfAnotherRateOrDamaged) {
    const std::string good = memory_text(Hertz{48000}, std::vector<std::byte>(100));
    write(good);
    EXPECT_THROW(read_memory(file_, Hertz{16000}), std::runtime_error);
    for (const std::string& bad : {std::string(), std::string("x\n"), good + "0", good + "0g\n", good.substr(0, good.find('\n') + 1)}) {
        write(bad);
        EXPECT_THROW(read_memory(file_, Hertz{48000}), std::runtime_error);
    }
    EXPECT_THROW(read_memory("none", Hertz{48000}), std::runtime_error);
}

TEST_F(AMemoryFile, IsNotToldToTheTerminalWhenItIsSomethingElse) {
    for (const std::string bad : {"\x1b[2Jx\n", "tripline memory, \x1b[2Jx\n"}) {
        write(bad);
        try {
            read_memory(file_, Hertz{48000});
            FAIL();
        } catch (const std::runtime_error& error) {
            EXPECT_EQ(std::string(error.what()).find('\x1b'), std::string::npos);
        }
    }
}

TEST_F(AMemoryFile, OfOtherSettingsOrOfRandomBytesIsRefusedByAReplay) {
    for (const std::size_t size : {1U, 100U, 5000U, 20000U}) {
        Recording recording({.file = "testdata/evening.flac"});
        EXPECT_THROW(play(recording, {}, {.event = {}, .progress = {}, .memory = std::vector<std::byte>(size, std::byte{0xff})}),
                     std::runtime_error);
    }
}

}  // namespace
}  // namespace tripline::replay
