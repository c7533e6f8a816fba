// The shipped recording: an evening call between the lighthouse cottage and the hut.
#include "daemon/cli/program.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <unistd.h>

namespace tripline::cli {
namespace {

namespace fs = std::filesystem;

constexpr auto recording = "testdata/evening.flac";
constexpr auto labels = "testdata/evening.rttm";
constexpr auto record = "testdata/evening.events.jsonl";

std::string run(std::initializer_list<const char*> options, int& code) {
    std::vector<const char*> argv{"tripline", "replay", recording};
    argv.insert(argv.end(), options);
    testing::internal::CaptureStdout();
    code = run_program(static_cast<int>(argv.size()), argv.data());
    return testing::internal::GetCapturedStdout();
}

std::string read(const fs::path& path) {
    std::ostringstream text;
    text << std::ifstream(path).rdbuf();
    return text.str();
}

TEST(TheEvening, IsKeyedAtEveryOverAndNowhereElse) {
    int code = -1;
    const std::string report = run({"--labels", labels}, code);
    EXPECT_EQ(code, 0) << report;
    EXPECT_NE(report.find("3 overs, 0 missed, 0 torn, 0 false keys, 0 held on"), std::string::npos) << report;
}

// Without anti-trip the far station is a loud sound of the room, after which a soft voice must not be held off.
TEST(TheEvening, IsNotTornWithoutTheReceiver) {
    int code = -1;
    const std::string unknown = run({"--labels", labels, "--no-receiver"}, code);
    EXPECT_NE(unknown.find("0 missed, 0 torn"), std::string::npos) << unknown;
    const std::string known = run({"--labels", labels, "--no-receiver", "--set", "gate.voice_peak_dbfs=-24"}, code);
    EXPECT_NE(known.find("0 missed, 0 torn"), std::string::npos) << known;
}

// With TRIPLINE_UPDATE_GOLDEN=1 in the environment the file is written instead of compared.
TEST(TheEvening, GivesTheEventsOnRecord) {
    const fs::path events =
        fs::temp_directory_path() / ("tripline-evening-" + std::to_string(::getpid()) + ".jsonl");
    int code = -1;
    run({"--events", events.c_str()}, code);
    ASSERT_EQ(code, 0);
    const std::string found = read(events);
    fs::remove(events);
    if (std::getenv("TRIPLINE_UPDATE_GOLDEN") != nullptr) std::ofstream(record) << found;
    ASSERT_TRUE(fs::exists(record));
    std::istringstream got_lines(found);
    std::istringstream want_lines(read(record));
    std::string got;
    std::string want;
    for (int line = 1; std::getline(want_lines, want); ++line) {
        std::getline(got_lines, got);
        ASSERT_EQ(got, want) << "line " << line << "; see DEVELOPERS.md on new events on record";
    }
    EXPECT_FALSE(std::getline(got_lines, got)) << got;
}

}  // namespace
}  // namespace tripline::cli
