#include "daemon/service/event_file.h"

#include "tests/file_limit.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <optional>

namespace tripline::service {
namespace {

struct TheEventFile : testing::Test {
    std::string path = testing::TempDir() + "tripline-events-" + std::to_string(::getpid());
    void SetUp() override { std::filesystem::remove(path); }
    void TearDown() override { std::filesystem::remove(path); }
    static void write_some(EventFile& file, int count) {
        for (int i = 0; i < count; ++i) file.write({}, Hertz{48000});
    }
};

TEST_F(TheEventFile, HasEveryEventOnALineOfItsOwn) {
    {
        EventFile file(path);
        write_some(file, 1000);
    }
    std::ifstream in(path);
    EXPECT_EQ(std::count(std::istreambuf_iterator<char>(in), {}, '\n'), 1000);
}

TEST_F(TheEventFile, LosesNoFurtherLineToOneThatAFullDiskCutOff) {
    const auto lines = [&] {
        std::vector<std::string> all;
        std::ifstream in(path);
        for (std::string line; std::getline(in, line);) all.push_back(line);
        return all;
    };
    {
        EventFile file(path);
        write_some(file, 1);
        for (int i = 0; i < 500 && lines().empty(); ++i) ::usleep(10'000);
        {
            const FileLimit full(std::filesystem::file_size(path) + 20);
            write_some(file, 1);
            for (int i = 0; i < 500 && !file.failed(); ++i) ::usleep(10'000);
            ASSERT_TRUE(file.failed());
        }
        write_some(file, 1);
    }
    ASSERT_EQ(lines().size(), 3U);
    EXPECT_EQ(lines()[1].size(), 20U);
    EXPECT_EQ(lines()[2], lines()[0]);
}

TEST_F(TheEventFile, RefusesAPipeThatNobodyReads) {
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    EXPECT_THROW(EventFile{path}, std::runtime_error);
}

TEST_F(TheEventFile, EndsThoughItsPipeIsNotRead) {
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    const lines::Descriptor reader(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    std::optional<EventFile> file(std::in_place, path);
    write_some(*file, 4000);
    const auto before = std::chrono::steady_clock::now();
    file.reset();
    EXPECT_LT(std::chrono::steady_clock::now() - before, std::chrono::seconds(3));
}

TEST_F(TheEventFile, TellsThatAPipeIsNotRead) {
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    const lines::Descriptor reader(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    EventFile file(path);
    write_some(file, 10'000);
    EXPECT_TRUE(file.failed());
}

TEST_F(TheEventFile, TellsThatItsReaderHasGone) {
    std::signal(SIGPIPE, SIG_IGN);
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    lines::Descriptor reader(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    EventFile file(path);
    reader = lines::Descriptor();
    write_some(file, 1);
    for (int i = 0; i < 200 && !file.failed(); ++i) ::usleep(10'000);
    EXPECT_TRUE(file.failed());
}

}  // namespace
}  // namespace tripline::service
