#include "daemon/service/keying_rule.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr station::Lines keyed{.ptt = true, .mute = true, .antenna = true};
constexpr station::Lines rest{};

/// A station whose engine wants to be on the air all the time, stepped a millisecond at a time.
struct Bench {
    KeyingRule rule{KeyingLimits{.stall = 100ms, .lifeless = 200ms, .monitor = true}};
    Sight sight{.monotonic = 1s, .guard_sound = true, .wanted = keyed};
    bool audio = true;
    bool monitor = true;
    bool service = true;

    station::Lines step() {
        sight.monotonic += 1ms;
        if (audio) ++sight.blocks;
        if (monitor) ++sight.monitor_blocks;
        if (service) ++sight.service_beats;
        return rule.decide(sight);
    }
    /// Steps until the lines are at rest; the time it took, or 10 s.
    Duration until_rest() {
        const Duration start = sight.monotonic;
        while (step() != rest && sight.monotonic - start < 10s) {
        }
        return sight.monotonic - start;
    }
    void get_on_air() {
        step();
        rule.clear();
        ASSERT_EQ(step(), keyed);
    }
};

TEST(TheKeyingRule, HoldsTheLinesAtRestUntilItIsCleared) {
    Bench bench;
    EXPECT_EQ(bench.step(), rest);
    EXPECT_EQ(bench.step(), rest);
    bench.rule.clear();
    EXPECT_EQ(bench.step(), keyed);
}

TEST(TheKeyingRule, IsWellOnlyWhileNothingIsWrongAndTheLatchIsLifted) {
    Bench bench;
    EXPECT_FALSE(bench.rule.well());
    bench.get_on_air();
    EXPECT_TRUE(bench.rule.well());
    bench.audio = false;
    bench.until_rest();
    EXPECT_FALSE(bench.rule.well());
    bench.audio = true;
    bench.step();
    EXPECT_FALSE(bench.rule.well()) << "until cleared";
}

TEST(TheKeyingRule, CannotBeClearedWhileSomethingIsWrong) {
    Bench bench;
    bench.sight.guard_sound = false;
    bench.step();
    bench.rule.clear();
    EXPECT_EQ(bench.step(), rest);
    EXPECT_EQ(bench.rule.present(), Trouble::guard);
}

TEST(TheKeyingRule, OpensTheKeyWhenTheAudioStalls) {
    Bench bench;
    bench.get_on_air();
    bench.audio = false;
    EXPECT_LE(bench.until_rest(), 101ms);
    EXPECT_EQ(bench.rule.trouble(), Trouble::stalled);
}

TEST(TheKeyingRule, OpensTheKeyWhenTheReceiversOwnDeviceStalls) {
    Bench bench;
    bench.get_on_air();
    bench.monitor = false;
    EXPECT_LE(bench.until_rest(), 101ms);
    EXPECT_EQ(bench.rule.trouble(), Trouble::monitor_stalled);
}

TEST(TheKeyingRule, OpensTheKeyWhenTheServiceStandsStill) {
    Bench bench;
    bench.get_on_air();
    bench.service = false;
    const Duration took = bench.until_rest();
    EXPECT_GT(took, 999ms);
    EXPECT_LE(took, 1001ms);
    EXPECT_EQ(bench.rule.trouble(), Trouble::service);
}

TEST(TheKeyingRule, KeepsTheKeyOpenUntilClearedWhenTheServiceGoesOn) {
    Bench bench;
    bench.get_on_air();
    bench.service = false;
    bench.until_rest();
    bench.service = true;
    EXPECT_EQ(bench.step(), rest);
    bench.rule.clear();
    EXPECT_EQ(bench.step(), keyed);
}

TEST(TheKeyingRule, OpensTheKeyAtOnceWhenTheGuardIsNotSound) {
    Bench bench;
    bench.get_on_air();
    bench.sight.guard_sound = false;
    EXPECT_EQ(bench.step(), rest);
}

TEST(TheKeyingRule, OpensTheKeyWhenTheInputsAreLifeless) {
    Bench bench;
    bench.get_on_air();
    bench.sight.lifeless = 199ms;
    EXPECT_EQ(bench.step(), keyed);
    bench.sight.lifeless = 200ms;
    EXPECT_EQ(bench.step(), rest);
    EXPECT_EQ(bench.rule.trouble(), Trouble::lifeless);
}

TEST(TheKeyingRule, OpensTheKeyAfterTheMachineSlept) {
    Bench bench;
    bench.get_on_air();
    bench.sight.slept += 60s;
    EXPECT_EQ(bench.step(), rest);
    EXPECT_EQ(bench.rule.trouble(), Trouble::suspended);
}

TEST(TheKeyingRule, KeepsTheKeyOpenWhenTheAudioComesBackByItself) {
    Bench bench;
    bench.get_on_air();
    bench.audio = false;
    bench.until_rest();
    bench.audio = true;
    for (int i = 0; i < 1000; ++i) ASSERT_EQ(bench.step(), rest);
    bench.rule.clear();
    EXPECT_EQ(bench.step(), keyed);
}

constexpr station::Lines unkeying{.ptt = false, .mute = true, .antenna = true};
constexpr station::Lines unmuting{.ptt = false, .mute = true, .antenna = false};

// A safe opens the key past the engine, which then goes back by its own steps.
TEST(TheKeyingRule, ThrowsNoRelayAgainThatWasForcedToRestBeforeTheEngine) {
    Bench bench;
    bench.get_on_air();
    bench.sight.forced_to_rest = true;
    EXPECT_EQ(bench.step(), rest);
    bench.sight.forced_to_rest = false;
    for (const station::Lines wanted : {keyed, unkeying, unmuting, rest, rest}) {
        bench.sight.wanted = wanted;
        EXPECT_EQ(bench.step(), rest);
    }
    bench.sight.wanted = unkeying;
    EXPECT_EQ(bench.step(), unkeying) << "the next over begins with the relays";
}

TEST(TheKeyingRule, KeysAnewAfterTheLinesWereForcedToRestThoughTheEngineHasNotBeenThere) {
    Bench bench;
    bench.get_on_air();
    bench.sight.forced_to_rest = true;
    bench.step();
    bench.sight.forced_to_rest = false;
    bench.sight.wanted = unkeying;
    EXPECT_EQ(bench.step(), rest);
    bench.sight.wanted = keyed;
    EXPECT_EQ(bench.step(), keyed);
}

TEST(TheKeyingRule, KeepsTheKeyThroughAShortGapInTheAudio) {
    Bench bench;
    bench.get_on_air();
    bench.audio = false;
    for (int i = 0; i < 99; ++i) ASSERT_EQ(bench.step(), keyed);
    bench.audio = true;
    for (int i = 0; i < 99; ++i) ASSERT_EQ(bench.step(), keyed);
}

}  // namespace
}  // namespace tripline::service
