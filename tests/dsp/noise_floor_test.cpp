#include "dsp/noise_floor.h"

#include "dsp/clutter.h"

#include <gtest/gtest.h>

namespace tripline::dsp {
namespace {

constexpr double hop = 0.5e-3;

/// Seconds of a steady power; the floor at the end.
Power after(NoiseFloor& floor, double seconds, Power power, Power leak = 0) {
    Power out = 0;
    for (int i = 0; i < static_cast<int>(seconds / hop); ++i) out = floor(power, leak);
    return out;
}

TEST(TheNoiseFloor, FindsTheRoomWithinASecond) {
    NoiseFloor floor(hop);
    EXPECT_NEAR(to_dbfs(after(floor, 1, 1e-7F)).value, -70, 0.5);
}

TEST(TheNoiseFloor, LearnsAFanThatIsSwitchedOnWithinFiveSeconds) {
    NoiseFloor floor(hop);
    after(floor, 10, 1e-6F);
    EXPECT_NEAR(to_dbfs(after(floor, 5, 1e-4F)).value, -40, 0.5);
}

TEST(TheNoiseFloor, FallsAtOnceWhenTheFanIsSwitchedOff) {
    NoiseFloor floor(hop);
    after(floor, 10, 1e-4F);
    EXPECT_NEAR(to_dbfs(after(floor, 0.5, 1e-6F)).value, -60, 0.5);
}

TEST(TheNoiseFloor, DoesNotLearnAVoiceThatPausesForBreath) {
    NoiseFloor floor(hop);
    after(floor, 5, 1e-6F);
    Power out = 0;
    for (int i = 0; i < 20; ++i) {
        after(floor, 2, 1e-3F);
        out = after(floor, 0.5, 1e-6F);
        EXPECT_LT(to_dbfs(out).value, -57) << i;
    }
}

TEST(TheNoiseFloor, DoesNotLearnTheLoudspeaker) {
    NoiseFloor floor(hop);
    after(floor, 5, 1e-6F);
    EXPECT_NEAR(to_dbfs(after(floor, 60, 1e-3F, 1e-3F)).value, -60, 0.5);
}

TEST(TheClutter, IsWaryAtFirstAndSettlesInAQuietRoom) {
    Clutter clutter({}, hop);
    clutter(0, 1e-6F, 1, false);
    EXPECT_TRUE(clutter.wary());
    for (int i = 0; i < static_cast<int>(12 / hop); ++i) clutter(1e-6F, 1e-6F, 1, false);
    EXPECT_FALSE(clutter.wary());
}

TEST(TheClutter, RemembersASoundThatDidNotKey) {
    Clutter clutter({}, hop);
    for (int i = 0; i < static_cast<int>(30 / hop); ++i) clutter(1e-6F, 1e-6F, 1, false);
    for (int i = 0; i < static_cast<int>(0.05 / hop); ++i) clutter(1e-4F, 1e-6F, 1, false);
    Power out = 0;
    for (int i = 0; i < static_cast<int>(0.5 / hop); ++i) out = clutter(1e-6F, 1e-6F, 1, false);
    EXPECT_GT(to_dbfs(out).value, -41);
    EXPECT_TRUE(clutter.wary());
}

TEST(TheClutter, ForgetsTheFirstSyllablesOfAnOver) {
    Clutter clutter({}, hop);
    Power before = 0;
    for (int i = 0; i < static_cast<int>(30 / hop); ++i)
        before = clutter(1e-6F, 1e-6F, 1, false);
    for (int i = 0; i < static_cast<int>(0.15 / hop); ++i) clutter(1e-4F, 1e-6F, 1, false);
    Power out = 0;
    for (int i = 0; i < static_cast<int>(2 / hop); ++i) out = clutter(1e-3F, 1e-6F, 1, true);
    EXPECT_LE(out, before);
}

TEST(TheClutter, NeverAsksForMoreThanTheOperatorReaches) {
    Clutter clutter({}, hop);
    for (int i = 0; i < static_cast<int>(30 / hop); ++i)
        EXPECT_LE(clutter(1e-2F, 1e-6F, 1e-4F, false), 1e-4F);
}

}  // namespace
}  // namespace tripline::dsp
