// The machine's memory sleep (ACPI S3), as logind and the kernel have it, with the station keyed.
#include "tests/vm/trace.h"

#include <gtest/gtest.h>

namespace tripline::shack {
namespace {

struct Night {
    std::string name;
    bool comes_back = false;  ///< by itself, to a voice
};

void PrintTo(const Night& night, std::ostream* out) { *out << night.name; }

struct TheSleepingMachine : testing::TestWithParam<Night> {
    double asked = 0, sleeps = 0, wakes = 0;

    void SetUp() override {
        const auto mark = trace().at("sleep " + GetParam().name);
        ASSERT_TRUE(mark) << "the guest did not get there";
        const auto begins = trace().at("the kernel begins to suspend", *mark), ends = trace().at("the machine has woken", *mark);
        ASSERT_TRUE(begins) << "the machine did not go to sleep";
        ASSERT_TRUE(ends) << "the machine did not wake";
        asked = *mark, sleeps = *begins, wakes = *ends;
    }
};

TEST_P(TheSleepingMachine, FoundEveryWireAtRestAndDidNotWaitLong) {
    constexpr double inhibit_delay_max_s = 5;  // logind.conf(5), InhibitDelayMaxSec=, as shipped
    ASSERT_TRUE(trace().level(Wire::rts, asked)) << "the key was not closed when the sleep was asked for";
    const auto open = trace().next(Wire::rts, false, asked), rest = trace().at_rest(asked);
    ASSERT_TRUE(open && rest);
    std::printf("%-8s asked to sleep: key open after %.0f ms, all wires at rest after %.0f ms; the kernel begins %.0f ms after that\n",
                GetParam().name.c_str(), (*open - asked) * 1e3, (*rest - asked) * 1e3, (sleeps - *rest) * 1e3);
    EXPECT_LT(*rest, sleeps);
    for (const Wire wire : all_wires) EXPECT_TRUE(trace().between(wire, *rest, wakes).empty()) << "a wire moved on the way to sleep";
    EXPECT_LT(sleeps - asked, inhibit_delay_max_s);
}

TEST_P(TheSleepingMachine, WakesWithTheKeyOpen) {
    const auto told = trace().at((GetParam().comes_back ? "woken " : "commanded ") + GetParam().name);
    ASSERT_TRUE(told);
    const auto closed = trace().between(Wire::rts, sleeps, *told);
    if (!GetParam().comes_back) {
        EXPECT_TRUE(closed.empty()) << "keyed " << closed.front().at - wakes << " s after waking, with nobody's leave";
    }
    // A driver that starts its port again, or a guard that opens it, gives pulses; a voice keys after both mute and antenna.
    for (const auto& change : closed) EXPECT_TRUE(!change.on || trace().level(Wire::dongle, change.at)) << change.at;
    EXPECT_TRUE(trace().at("again " + GetParam().name)) << "speech did not key the station again";
}

INSTANTIATE_TEST_SUITE_P(, TheSleepingMachine, testing::Values(Night{"service"}, Night{"forced"}, Night{"voice", true}),
                         [](const auto& chosen) { return chosen.param.name; });

TEST(TheSleep, StopsTheInstalledService) {
    const std::string state = result("sleep-service.state");
    EXPECT_NE(state.find("ActiveState=inactive"), std::string::npos) << state;
    EXPECT_NE(state.find("Result=success"), std::string::npos) << state;
}

// The guest has no polkit, which logind would ask whether a service that is not root's may delay a sleep.
TEST(TheSleep, IsToldNotToWaitForTheKeyWhereLogindDoesNotAllowIt) {
    EXPECT_NE(result("journal.log").find("the computer will not wait for the open key before it sleeps: "), std::string::npos);
}

TEST(TheSleep, LeavesAForcedStationSafeAndAskedLogindToWaitForIt) {
    const std::string state = result("sleep-forced.state"), inhibitors = result("sleep-inhibit.list");
    EXPECT_NE(state.find("mode            safe"), std::string::npos) << state;
    EXPECT_NE(inhibitors.find("the key opens first"), std::string::npos) << inhibitors;
}

TEST(TheSleep, WasNotHeldUpToTheEndOfLogindsPatience) {
    const std::string journal = result("journal.log");
    EXPECT_NE(journal.find("The system will suspend now!"), std::string::npos) << "logind had no part in it";
    EXPECT_NE(journal.find("PM: suspend entry (deep)"), std::string::npos);
    EXPECT_EQ(journal.find("inhibitor timeout is reached"), std::string::npos);  // logind's words, from memory
}

}  // namespace
}  // namespace tripline::shack
