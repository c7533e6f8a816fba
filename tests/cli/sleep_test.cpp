// A station on a machine that goes to sleep.
#include "tests/faults/child.h"
#include "tests/faults/line_log.h"
#include "tests/service/pretend_logind.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <csignal>
#include <filesystem>
#include <optional>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct AMachineThatSleeps : testing::Test {
    TemporaryFolder folder;
    service::PretendLogind logind;
    std::string socket = folder / "control.sock";
    faults::LineLog lines{folder.path() / "lines"};
    std::optional<faults::Child> station;

    void SetUp() override { start(); }
    void start(const std::string& more = "", const std::vector<std::string>& environment = {}) {
        station.emplace(std::vector<std::string>{"/bin/sh", "-c", "exec \"$0\" run --from testdata/evening.flac --lines \"$1\" --set control.socket=\"$2\" " + more + " 2> \"$3\"",
                                                 TRIPLINE_PROGRAM, folder / "lines", socket, folder / "log"}, environment);
    }

    int tell(const std::string& words) const {
        return WEXITSTATUS(std::system((std::string(TRIPLINE_PROGRAM) + ' ' + words + " --socket " + socket + " > " + (folder / "said") + " 2>&1").c_str()));
    }
    bool logged(const std::string& text, Duration timeout = 20s) const {
        for (int i = 0; i < timeout / 10ms && folder.read("log").find(text) == std::string::npos; ++i) ::poll(nullptr, 0, 10);
        return folder.read("log").find(text) != std::string::npos;
    }
    bool is_ready_again() const {
        const auto ready = [&] { const std::string log = folder.read("log"); return log.find("station ready") != log.rfind("station ready"); };
        for (int i = 0; i < 1000 && !ready(); ++i) ::poll(nullptr, 0, 10);
        return ready();
    }
};

TEST_F(AMachineThatSleeps, WaitsUntilTheKeyIsOpenAndNothingKeysItMeanwhile) {
    ASSERT_TRUE(logind.waits(true));
    ASSERT_TRUE(lines.wait("ptt", true, faults::Instant{}, 60s)) << folder.read("log");
    logind.announce(true);
    ASSERT_TRUE(logind.waits(false)) << folder.read("log");
    for (const char* role : {"ptt", "antenna", "mute"}) EXPECT_FALSE(lines.active(role)) << "it may sleep before that is at rest: " << role;
    EXPECT_TRUE(logged("lines released: machine about to sleep"));
    EXPECT_EQ(tell("key"), 2);
    EXPECT_NE(folder.read("said").find("not ready"), std::string::npos) << folder.read("said");
    const auto slept = faults::now();
    EXPECT_FALSE(lines.wait("ptt", true, slept, 3s)) << "the recording goes on with speech";
    EXPECT_EQ(tell("status"), 0);
    EXPECT_NE(folder.read("said").find("the machine is about to sleep"), std::string::npos) << folder.read("said");
    logind.announce(false);
    EXPECT_TRUE(logind.waits(true)) << "it is to wait the next time too";
    EXPECT_TRUE(is_ready_again()) << folder.read("log");
    EXPECT_EQ(tell("key"), 0) << folder.read("said");
}

TEST_F(AMachineThatSleeps, EndsAForcedKeyForGood) {
    ASSERT_TRUE(logged("station ready"));
    ASSERT_EQ(tell("key"), 0) << folder.read("said");
    ASSERT_TRUE(lines.wait("ptt", true, faults::Instant{}, 10s));
    logind.announce(true);
    EXPECT_TRUE(logged("mode safe commanded by the machine's sleep"));
    ASSERT_TRUE(logind.waits(false));
    logind.announce(false);
    EXPECT_TRUE(logind.waits(true));
    EXPECT_EQ(tell("status"), 0);
    EXPECT_NE(folder.read("said").find("safe"), std::string::npos) << folder.read("said");
}

// Logind hangs, so that no waking is ever told.
TEST_F(AMachineThatSleeps, KeepsTheStationAtRestInDoubtUntilItIsArmed) {
    ASSERT_TRUE(logind.waits(true));
    ASSERT_TRUE(logged("station ready"));
    ASSERT_EQ(tell("key"), 0) << folder.read("said");
    ASSERT_TRUE(lines.wait("ptt", true, faults::Instant{}, 10s));
    logind.announce(true);
    ASSERT_TRUE(logind.waits(false)) << folder.read("log");
    logind.hang(true);
    const auto slept = faults::now();
    ASSERT_TRUE(logged("logind has announced a sleep and does not answer any more", 40s)) << folder.read("log");
    EXPECT_EQ(tell("status"), 0);
    EXPECT_NE(folder.read("said").find("logind does not answer; arm the station if it stays awake"), std::string::npos) << folder.read("said");
    EXPECT_FALSE(lines.wait("ptt", true, slept, 1s)) << "the recording goes on with speech";
    EXPECT_EQ(folder.read("log").find("station ready"), folder.read("log").rfind("station ready"));
    EXPECT_EQ(tell("arm"), 0) << folder.read("said");
    EXPECT_TRUE(is_ready_again()) << folder.read("log");
}

struct AMachineWhoseStationIsLockedOut : AMachineThatSleeps {
    void SetUp() override { start("--set limits.longest_over_s=3 --set limits.quiet_to_clear_s=60"); }
};

TEST_F(AMachineWhoseStationIsLockedOut, FindsItLockedOutWhenItWakes) {
    ASSERT_TRUE(logind.waits(true));
    ASSERT_TRUE(logged("locked out until the microphone is quiet", 60s)) << folder.read("log");
    logind.announce(true);
    ASSERT_TRUE(logind.waits(false)) << folder.read("log");
    const auto slept = faults::now();
    logind.announce(false);
    ASSERT_TRUE(is_ready_again()) << folder.read("log");
    EXPECT_EQ(tell("key"), 2);
    EXPECT_NE(folder.read("said").find("the station is locked out (too_long) until the microphone has been quiet"), std::string::npos) << folder.read("said");
    EXPECT_FALSE(lines.wait("ptt", true, slept, 3s)) << "the recording goes on with speech";
    EXPECT_EQ(tell("status"), 0);
    EXPECT_NE(folder.read("said").find("locked_out (too_long)"), std::string::npos) << folder.read("said");
}

struct AMachineWhoseStationIsSlowToEnd : AMachineThatSleeps {
    void SetUp() override {
        if (TRIPLINE_SANITIZED) GTEST_SKIP() << "a preloaded library comes before the sanitizer";
        start("--set black_box.keep_s=10 --set black_box.folder=" + (folder / "captures"), {std::string("LD_PRELOAD=") + SLOW_DISK});
    }
};

TEST_F(AMachineWhoseStationIsSlowToEnd, WaitsForItsLinesAndNotForItsEnd) {
    ASSERT_TRUE(logind.waits(true));
    ASSERT_TRUE(logged("station ready"));
    ::poll(nullptr, 0, 500);  // something to keep
    ASSERT_EQ(std::system((std::string(TRIPLINE_PROGRAM) + " capture --socket " + socket + " > /dev/null 2>&1 &").c_str()), 0);
    for (int i = 0; i < 1000 && (!std::filesystem::exists(folder / "captures") || std::filesystem::is_empty(folder / "captures")); ++i) ::poll(nullptr, 0, 10);
    station->signal(SIGTERM);
    EXPECT_TRUE(logind.waits(false, 1500ms)) << "it waited for the capture, which is given 2 s";
    for (const char* role : {"ptt", "antenna", "mute"}) EXPECT_FALSE(lines.active(role)) << role;
    EXPECT_EQ(station->wait(50ms), -1) << "it was not slow to end";
    EXPECT_NE(station->wait(20s), -1);
}

struct AMachineThatIsAboutToSleep : AMachineThatSleeps {
    void SetUp() override {
        logind.be_about_to_sleep();
        start();
    }
};

TEST_F(AMachineThatIsAboutToSleep, IsWaitedForByAStationThatStartsThenAndTakesCommands) {
    ASSERT_TRUE(logged("sound open")) << folder.read("log");
    ::poll(nullptr, 0, 4000);  // longer than a station waits for its lines
    EXPECT_EQ(folder.read("log").find("no line could be had"), std::string::npos) << folder.read("log");
    EXPECT_EQ(folder.read("log").find("station ready"), std::string::npos) << folder.read("log");
    EXPECT_EQ(tell("safe"), 0) << folder.read("said");
    EXPECT_EQ(tell("arm"), 0) << folder.read("said");
    EXPECT_EQ(tell("status"), 0);
    EXPECT_NE(folder.read("said").find("the machine is about to sleep"), std::string::npos) << folder.read("said");
    logind.announce(false);
    EXPECT_TRUE(logged("station ready")) << folder.read("log");
    EXPECT_TRUE(lines.wait("ptt", true, faults::Instant{}, 60s)) << folder.read("log");
}

}  // namespace
}  // namespace tripline::cli
