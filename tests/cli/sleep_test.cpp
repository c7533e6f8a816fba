// A station on a machine that goes to sleep.
#include "tests/faults/child.h"
#include "tests/faults/line_log.h"
#include "tests/service/pretend_logind.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <csignal>
#include <optional>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""s;

struct AMachineThatSleeps : testing::Test {
    TemporaryFolder folder;
    service::PretendLogind logind;
    std::string socket = folder / "control.sock";
    faults::LineLog lines{folder.path() / "lines"};
    std::optional<faults::Child> station;

    void SetUp() override { start(); }
    void start() {
        station.emplace(std::vector<std::string>{"/bin/sh", "-c", "exec \"$0\" run --from testdata/evening.flac --lines \"$1\" --set control.socket=\"$2\" 2> \"$3\"",
                                                 TRIPLINE_PROGRAM, folder / "lines", socket, folder / "log"});
    }

    int tell(const std::string& words) const {
        return WEXITSTATUS(std::system((std::string(TRIPLINE_PROGRAM) + ' ' + words + " --socket " + socket + " > " + (folder / "said") + " 2>&1").c_str()));
    }
    bool logged(const std::string& text) const {
        for (int i = 0; i < 2000 && folder.read("log").find(text) == std::string::npos; ++i) ::poll(nullptr, 0, 10);
        return folder.read("log").find(text) != std::string::npos;
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
    const auto ready = [&] { const std::string log = folder.read("log"); return log.find("station ready") != log.rfind("station ready"); };
    for (int i = 0; i < 1000 && !ready(); ++i) ::poll(nullptr, 0, 10);
    EXPECT_TRUE(ready()) << folder.read("log");
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
