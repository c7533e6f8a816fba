// How long the machine has slept, told from clocks that are not read in the same instant.
#include "daemon/service/keying_rule.h"
#include "daemon/service/slept_time.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

TEST(TheTimeSlept, IsSeenWhereOneClockWentOn) {
    SleptTime slept;
    EXPECT_EQ(slept.told_by(100s, 90s), 10s) << "before the station started";
    EXPECT_EQ(slept.told_by(101s, 91s), 10s);
    EXPECT_EQ(slept.told_by(162s, 92s), 70s);
}

TEST(TheTimeSlept, DoesNotGrowForAThreadThatIsKeptWaitingBetweenTheClocks) {
    SleptTime slept;
    slept.told_by(100s, 100s);
    EXPECT_EQ(slept.told_by(101s, 101s + 300ms), 0s);
    EXPECT_EQ(slept.told_by(102s, 102s), 0s) << "what was read too small grows back, and is no sleep";
}

TEST(TheTimeSlept, HiddenByADelayIsSeenAtTheNextLook) {
    SleptTime slept;
    slept.told_by(100s, 100s);
    EXPECT_EQ(slept.told_by(103s, 104s), 0s) << "it slept for a second, and the thread waited for two";
    EXPECT_EQ(slept.told_by(105s + 1ms, 104s + 1ms), 1s);
}

// The order of the keying thread, which sees no sleep in a delay and opens the key after a real one.
TEST(TheTimeSlept, OpensNoKeyByADelay) {
    KeyingRule rule{KeyingLimits{}};
    SleptTime slept;
    Sight sight{.monotonic = 1s, .blocks = 1, .service_beats = 1, .guard_sound = true, .wanted = {.ptt = true, .mute = true, .antenna = true}};
    const auto look = [&](Duration with_sleep, Duration awake) {
        ++sight.blocks, ++sight.service_beats;
        sight.monotonic = awake, sight.slept = slept.told_by(with_sleep, awake);
        return rule.decide(sight).ptt;
    };
    look(1s, 1s);
    rule.clear();
    EXPECT_TRUE(look(1001ms, 1001ms));
    EXPECT_TRUE(look(1002ms, 1092ms));
    EXPECT_TRUE(look(1093ms, 1093ms));
    EXPECT_FALSE(look(2094ms, 1094ms));
    EXPECT_EQ(rule.trouble(), Trouble::suspended);
}

}  // namespace
}  // namespace tripline::service
