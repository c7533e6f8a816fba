#include "daemon/lines/file_log.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <regex>

using namespace tripline::lines;

namespace {

/// No file grows beyond `size` while this lives.
class NoRoom {
public:
    explicit NoRoom(rlim_t size) {
        std::signal(SIGXFSZ, SIG_IGN);
        ::getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit here{size, before_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &here);
    }
    ~NoRoom() { ::setrlimit(RLIMIT_FSIZE, &before_); }

private:
    rlimit before_{};
};

struct TheFileLog : testing::Test {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("tripline-log-" + std::to_string(::getpid()));
    Wire wire{Role::ptt, {.kind = Kind::file, .device = path.string()}};
    void SetUp() override { std::filesystem::remove(path); }
    void TearDown() override { std::filesystem::remove(path); }

    std::vector<std::string> records() const {
        std::ifstream in(path);
        std::vector<std::string> lines;
        for (std::string line; std::getline(in, line);) lines.push_back(line);
        return lines;
    }
    std::string refusal() const {
        try {
            FileLog log(std::span(&wire, 1));
        } catch (const OpenError& error) {
            return error.what();
        }
        return "opened";
    }
};

TEST_F(TheFileLog, WritesRestWhenOpened) {
    FileLog log(std::span(&wire, 1));
    ASSERT_EQ(records().size(), 1U);
    EXPECT_TRUE(records()[0].ends_with("Z ptt rest")) << records()[0];
}

TEST_F(TheFileLog, WritesBothClocksRoleAndLevel) {
    FileLog log(std::span(&wire, 1));
    ASSERT_TRUE(log.drive(wire, true));
    EXPECT_TRUE(std::regex_match(
        records().back(),
        std::regex(R"(\d+\.\d{9} \d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z ptt active)")))
        << records().back();
}

TEST_F(TheFileLog, GoesOnAfterWhatIsThere) {
    { FileLog first(std::span(&wire, 1)); }
    { FileLog second(std::span(&wire, 1)); }
    EXPECT_EQ(records().size(), 2U);
}

TEST_F(TheFileLog, StartsOverAtItsSizeLimit) {
    { FileLog first(std::span(&wire, 1)); }
    std::filesystem::resize_file(path, FileLog::size_limit - 10);
    FileLog log(std::span(&wire, 1));
    EXPECT_LT(std::filesystem::file_size(path), 200U);
    EXPECT_TRUE(records().back().ends_with("ptt rest"));
}

TEST_F(TheFileLog, LeavesAFileAloneThatIsNoLogOfLines) {
    for (const std::string text : {"x", "[line.ptt]\nkind = \"file\"\n", "12 apples\n"}) {
        std::ofstream(path) << text;
        EXPECT_NE(refusal().find("something else"), std::string::npos) << refusal();
        EXPECT_EQ(std::filesystem::file_size(path), text.size());
    }
}

TEST_F(TheFileLog, TakesNoDeviceAndNoFolder) {
    for (const char* device : {"/dev/null", "/dev/full", "/tmp"}) {
        wire.settings.device = device;
        EXPECT_NE(refusal().find("neither a file nor a pipe"), std::string::npos) << refusal();
    }
}

TEST_F(TheFileLog, WritesToAPipeThatIsRead) {
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    EXPECT_NE(refusal().find("nobody reads the pipe"), std::string::npos) << refusal();
    const Descriptor reader(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    FileLog log(std::span(&wire, 1));
    ASSERT_TRUE(log.drive(wire, true));
    char text[256];
    const ssize_t size = ::read(reader.get(), text, sizeof text);
    ASSERT_GT(size, 0);
    EXPECT_TRUE(std::string(text, static_cast<std::size_t>(size)).ends_with("ptt active\n"));
}

TEST_F(TheFileLog, ReportsAPipeThatIsFullWithoutWaiting) {
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    const Descriptor reader(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    FileLog log(std::span(&wire, 1));
    Outcome outcome;
    for (int i = 0; i < 10'000 && outcome; ++i) outcome = log.drive(wire, true);
    EXPECT_EQ(outcome.error, EAGAIN);
}

TEST_F(TheFileLog, ReportsADiskThatTakesNothingAtTheStart) {
    const NoRoom none(0);
    EXPECT_NE(refusal().find(path.string()), std::string::npos) << refusal();
}

TEST_F(TheFileLog, ReportsAWriteThatFailsLater) {
    FileLog log(std::span(&wire, 1));
    const NoRoom none(std::filesystem::file_size(path));
    const Outcome outcome = log.drive(wire, true);
    EXPECT_EQ(outcome.error, EFBIG);
}

}  // namespace
