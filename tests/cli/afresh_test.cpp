// A station whose sound library hangs runs itself anew in the same process.
#include "tests/faults/child.h"
#include "tests/service/manager.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>
#include <poll.h>

#include <csignal>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""s;

int count_of(const std::string& text, const std::string& what) {
    int count = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
    return count;
}

struct AStationWhoseSoundHangs : testing::Test {
    TemporaryFolder folder;
    const service::Manager manager;
    std::string told;  // to the service manager

    void SetUp() override {
        if (TRIPLINE_SANITIZED) GTEST_SKIP() << "a sanitizer wants to be the first library that is loaded";
    }
    std::vector<std::string> run(const std::string& more = {}) const {
        return {"/bin/sh", "-c", "exec \"$0\" run --lines \"$1\" " + more + " 2> \"$2\"", TRIPLINE_PROGRAM, folder / "lines", folder / "log"};
    }
    /// Waits until it has started so often. What the service manager is told meanwhile is taken in.
    bool started(int times, Duration timeout = 30s) {
        const auto end = std::chrono::steady_clock::now() + timeout;
        while (std::chrono::steady_clock::now() < end) {
            told += manager.read();
            if (count_of(folder.read("log"), " starts, mode ") >= times) return true;
            ::poll(nullptr, 0, 10);
        }
        return false;
    }
};

// Systemd would wait for its end, and kill daemon, guard and backstop when that is not there in time.
TEST_F(AStationWhoseSoundHangs, DoesNotTellTheServiceManagerThatItStopsButAfterAnOrderToStop) {
    faults::Child station(run(), {std::string("LD_PRELOAD=") + HANGING_SOUND});
    ASSERT_TRUE(started(2)) << folder.read("log");
    EXPECT_NE(folder.read("log").find("lines released, starting afresh"), std::string::npos) << folder.read("log");
    EXPECT_EQ(told.find("STOPPING"), std::string::npos) << told;
    station.signal(SIGTERM);
    for (int i = 0; i < 300 && told.find("STOPPING") == std::string::npos; ++i) {
        told += manager.read();
        ::poll(nullptr, 0, 10);
    }
    EXPECT_NE(told.find("STOPPING"), std::string::npos) << told;
}

TEST_F(AStationWhoseSoundHangs, OverwritesNeitherTheEventsNorTheRecordingOfBefore) {
    const std::string events = folder / "evening.events.jsonl";
    faults::Child station(run("--events '" + events + "'"), {std::string("LD_PRELOAD=") + HANGING_SOUND});
    ASSERT_TRUE(started(1)) << folder.read("log");
    folder.write("evening.events.jsonl", "of before\n");
    ASSERT_TRUE(started(2)) << folder.read("log");
    for (int i = 0; i < 300 && !std::filesystem::exists(folder / "evening.2.events.jsonl"); ++i) ::poll(nullptr, 0, 10);
    EXPECT_TRUE(std::filesystem::exists(folder / "evening.2.events.jsonl"));
    EXPECT_EQ(folder.read("evening.events.jsonl"), "of before\n");
    station.signal(SIGTERM);

    folder.write("evening.wav", "of before\n");
    faults::Child next(run("--from testdata/evening.flac --record '" + (folder / "evening.wav") + "'"), {"TRIPLINE_KEPT_OPENED=1"});
    for (int i = 0; i < 1000 && !std::filesystem::exists(folder / "evening.2.wav"); ++i) ::poll(nullptr, 0, 10);
    EXPECT_TRUE(std::filesystem::exists(folder / "evening.2.wav")) << folder.read("log");
    EXPECT_EQ(folder.read("evening.wav"), "of before\n");
}

}  // namespace
}  // namespace tripline::cli
