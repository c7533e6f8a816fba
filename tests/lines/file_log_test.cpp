#include "daemon/lines/file_log.h"

#include <gtest/gtest.h>
#include <sys/resource.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <regex>

using namespace tripline::lines;

namespace {

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
    { std::ofstream(path) << "x"; }
    std::filesystem::resize_file(path, FileLog::size_limit - 10);
    FileLog log(std::span(&wire, 1));
    EXPECT_LT(std::filesystem::file_size(path), 200U);
    EXPECT_TRUE(records().back().ends_with("ptt rest"));
}

TEST_F(TheFileLog, ReportsAFullDisk) {
    // /dev/full answers every write with ENOSPC.
    wire.settings.device = "/dev/full";
    try {
        FileLog log(std::span(&wire, 1));
        FAIL() << "opened";
    } catch (const OpenError& error) {
        EXPECT_EQ(error.error, ENOSPC);
        EXPECT_NE(std::string(error.what()).find("/dev/full"), std::string::npos);
    }
}

TEST_F(TheFileLog, ReportsAWriteThatFailsLater) {
    FileLog log(std::span(&wire, 1));
    std::signal(SIGXFSZ, SIG_IGN);
    rlimit before{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const rlimit here{std::filesystem::file_size(path), before.rlim_max};
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &here), 0);
    const Outcome outcome = log.drive(wire, true);
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
    EXPECT_EQ(outcome.error, EFBIG);
}

}  // namespace
