#include "daemon/guard/stepper.h"

#include "tests/guard/orders.h"

#include <gtest/gtest.h>

#include <random>

namespace tripline::guard {
namespace {

const station::SequenceSettings steps{
    .mute = {5ms, 4ms}, .antenna = {20ms, 15ms}, .ptt = {15ms, 10ms}, .settle = 10ms};
constexpr station::Lines muted{.ptt = false, .mute = true, .antenna = false};

TEST(TheStepper, MutesThenSwitchesTheAntennaThenKeysWhateverIsAskedAtOnce) {
    Stepper stepper(steps);
    EXPECT_EQ(stepper.next(keyed, 1s), muted);
    EXPECT_EQ(stepper.due(), 1005ms);
    EXPECT_EQ(stepper.next(keyed, 1004ms), muted);
    EXPECT_EQ(stepper.next(keyed, 1005ms), switching);
    EXPECT_EQ(stepper.due(), 1035ms);
    EXPECT_EQ(stepper.next(keyed, 1034ms), switching);
    EXPECT_EQ(stepper.next(keyed, 1035ms), keyed);
    EXPECT_EQ(stepper.due(), Instant::max());
}

TEST(TheStepper, OpensTheKeyFirstThenTheAntennaThenUnmutes) {
    Stepper stepper(steps);
    for (Instant t = 0ms; t < 50ms; t += 1ms) stepper.next(keyed, t);
    ASSERT_EQ(stepper.lines(), keyed);
    EXPECT_EQ(stepper.next(at_rest, 1s), switching);
    EXPECT_EQ(stepper.due(), 1010ms);
    EXPECT_EQ(stepper.next(at_rest, 1009ms), switching);
    EXPECT_EQ(stepper.next(at_rest, 1010ms), muted);
    EXPECT_EQ(stepper.next(at_rest, 1024ms), muted);
    EXPECT_EQ(stepper.next(at_rest, 1025ms), at_rest);
}

TEST(TheStepper, DoesEverythingAtOnceButInOrderWithoutLeadAndLag) {
    Stepper stepper({.mute = {0ms, 0ms}, .antenna = {0ms, 0ms}, .ptt = {0ms, 0ms}, .settle = 0ms});
    EXPECT_EQ(stepper.next(keyed, 1s), keyed);
    EXPECT_EQ(stepper.next(at_rest, 2s), at_rest);
}

// Properties under random orders at random times.
TEST(TheStepper, NeverKeysOnARelayInMotionNorUnmutesWhileKeyed) {
    const auto seed = std::random_device{}();
    SCOPED_TRACE("seed " + std::to_string(seed));
    std::mt19937 random(seed);
    const std::array wishes{at_rest, muted, switching, keyed};
    Stepper stepper(steps);
    Instant now = 0ms, antenna_moved = -1s, key_opened = -1s, muted_at = -1s;
    station::Lines wanted = at_rest, before = at_rest;
    for (int i = 0; i < 300000; ++i) {
        now += std::chrono::microseconds(random() % 3000);
        if (random() % 12 == 0) wanted = wishes[random() % wishes.size()];
        const station::Lines lines = stepper.next(wanted, now);
        if (lines.ptt) {
            ASSERT_TRUE(lines.antenna && lines.mute);
        }
        if (lines.mute && !before.mute) muted_at = now;
        if (lines.antenna != before.antenna) {
            ASSERT_FALSE(lines.ptt || before.ptt);
            ASSERT_GE(now - key_opened, steps.ptt.lag);
            ASSERT_TRUE(!lines.antenna || now - muted_at >= steps.mute.lead);
            antenna_moved = now;
        }
        if (!lines.mute && before.mute) {
            ASSERT_FALSE(lines.antenna);
            ASSERT_GE(now - antenna_moved, steps.antenna.lag);
        }
        ASSERT_TRUE(!lines.ptt || before.ptt ||
                    now - antenna_moved >= steps.antenna.lead + steps.settle);
        if (!lines.ptt && before.ptt) key_opened = now;
        ASSERT_FALSE(before.ptt && !wanted.ptt && lines.ptt) << "the key opens at once";
        before = lines;
    }
}

TEST(TheStepper, IsWokenUntilItIsWhereItIsWanted) {
    Stepper stepper(steps);
    Instant now = 1s;
    stepper.next(keyed, now);
    for (int wake = 0; stepper.lines() != keyed; ++wake) {
        ASSERT_LT(wake, 10);
        now = stepper.due();
        stepper.next(keyed, now);
    }
    EXPECT_EQ(now, 1035ms);
}

}  // namespace
}  // namespace tripline::guard
