#include "dsp/leak.h"

#include "dsp/coupling.h"

#include <gtest/gtest.h>

#include <random>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

constexpr double hop = 0.5e-3;
/// A coupling and what it learns from.
struct Learner {
    explicit Learner(const LeakSettings& s) : coupling(s) {}
    float operator()(Power microphone, Power receiver, bool keyed, Power floor = 0) {
        return coupling(balance(Pair{microphone, receiver}), keyed, floor);
    }
    Balance balance{hop};
    Coupling coupling;
};

constexpr LeakSettings settings{.delay = 10ms, .decay = 100ms};

TEST(TheLeak, ArrivesAfterTheDelayThroughTheCoupling) {
    Leak leak(settings, hop);
    for (int i = 0; i < 20; ++i) EXPECT_EQ(leak(0.5F, 0.1F), 0.0F) << i;
    EXPECT_FLOAT_EQ(leak(0.5F, 0.1F), 0.05F);
}

TEST(TheLeak, DiesAwayToOneEthInItsDecay) {
    Leak leak(settings, hop);
    for (int i = 0; i < 100; ++i) leak(1, 1);
    float predicted = 0;
    for (int i = 0; i < 220; ++i) predicted = leak(0, 1);
    EXPECT_NEAR(predicted, std::exp(-1.0), 0.01);
}

TEST(TheLeak, OfASilentReceiverIsNothing) {
    Leak leak(settings, hop);
    for (int i = 0; i < 1000; ++i) ASSERT_EQ(leak(0, 1), 0.0F);
}

/// Feeds seconds of receiver sound that arrives with a ratio; the coupling at the end.
float learnt(Learner& coupling, double seconds, float ratio, bool keyed = false) {
    std::mt19937 random(7);
    std::exponential_distribution<float> power(100);
    float out = 0;
    for (int i = 0; i < static_cast<int>(seconds / hop); ++i) {
        const float receiver = power(random);
        out = coupling(ratio * receiver, receiver, keyed);
    }
    return out;
}

TEST(TheCoupling, IsTheSetOneUntilTheReceiverHasBeenHeard) {
    Learner coupling({.coupling = Decibels{6}});
    for (int i = 0; i < 20000; ++i)
        ASSERT_NEAR(coupling(1e-4F, 0, false), to_ratio(Decibels{6}), 1e-3);
}

TEST(TheCoupling, IsLearntWithinTwoSeconds) {
    Learner coupling({.margin = Decibels{1}});
    EXPECT_NEAR(to_dbfs(learnt(coupling, 2, 0.01F)).value, -20 + 1, 0.3);
}

TEST(TheCoupling, FollowsALoudspeakerThatIsTurnedUp) {
    Learner coupling({.margin = Decibels{1}});
    learnt(coupling, 10, 0.01F);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 7, 0.1F)).value, -10 + 1, 0.3);
}

TEST(TheCoupling, IsNotRaisedByClicksAtTheMicrophone) {
    Learner coupling({.margin = Decibels{1}});
    float out = 0;
    for (int i = 0; i * hop < 12; ++i) {
        const bool click = i % 400 < 80;   // 40 ms, five a second
        out = coupling(click ? 0.3F : 0.001F, 0.1F, false);
    }
    EXPECT_NEAR(to_dbfs(out).value, -20 + 1, 0.6);
}

TEST(TheCoupling, NeverPassesTheSetOne) {
    Learner coupling({.coupling = Decibels{-6}});
    EXPECT_NEAR(to_dbfs(learnt(coupling, 10, 5.0F)).value, -6, 0.01);
}

TEST(TheCoupling, LearnsNothingWhileTheStationIsKeyed) {
    Learner coupling({});
    learnt(coupling, 10, 0.01F);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 10, 1.0F, true)).value, -20 + 1, 0.3);
}

/// Feeds seconds of a receiver, half the time its own noise and half speech that is far louder, to a room
/// that makes noise; the coupling at the end.
float learnt_in_noise(Learner& coupling, double seconds, float ratio, Power noise) {
    std::mt19937 random(7);
    std::exponential_distribution<float> one(1);
    float out = 0;
    for (int i = 0; i < static_cast<int>(seconds / hop); ++i) {
        const float receiver = std::fmod(i * hop, 8) < 4 ? 3e-4F : 0.03F * one(random);
        out = coupling(ratio * receiver + noise * (0.75F + 0.5F * one(random)), receiver, false, noise);
    }
    return out;
}

TEST(TheCoupling, OfALoudspeakerThatTheRoomDrownsIsNotTakenForTheRoomsNoise) {
    const Power noise = 2e-4F;  // as loud as the receiver's own, at its input
    Learner coupling({.margin = Decibels{1}});
    const float known = learnt_in_noise(coupling, 60, 0.001F, noise);
    EXPECT_LT(to_dbfs(known).value, -15);
    for (int i = 0; i * hop < 60; ++i) coupling(noise, 3e-4F, false, noise);
    EXPECT_EQ(coupling(noise, 3e-4F, false, noise), known) << "after a minute of the receiver's own noise";
}

TEST(TheCoupling, IsLearntAnewInNoiseOnceALoudspeakerThatWasTurnedUpStandsOut) {
    const Power noise = 2e-4F;
    Learner coupling({.margin = Decibels{1}});
    learnt_in_noise(coupling, 60, 0.001F, noise);
    EXPECT_NEAR(to_dbfs(learnt_in_noise(coupling, 20, 0.3F, noise)).value, to_dbfs(0.3F).value + 1, 2);
}

/// A quiet room in which the receiver, never silent, is turned up by 20 dB: its noise becomes the floor within 3 s.
float learnt_of_one_turned_up(Learner& coupling, double seconds) {
    const Power receiver = 0.1F;
    float out = 0;
    for (int i = 0; i * hop < 30; ++i) coupling(0.01F * receiver, receiver, false, 3e-4F);
    for (int i = 0; i * hop < seconds; ++i) out = coupling(receiver, receiver, false, i * hop < 3 ? 3e-4F : receiver);
    return out;
}

TEST(TheCoupling, FollowsALoudspeakerThatLiftsTheNoiseFloorAsItIsTurnedUp) {
    Learner coupling({.margin = Decibels{1}});
    EXPECT_NEAR(to_dbfs(learnt_of_one_turned_up(coupling, 8)).value, 1, 0.3);
}

TEST(TheCoupling, IsNotTakenForTheRoomsNoiseBecauseAMicrophoneWasOnceSwitchedOff) {
    const Power noise = 2e-4F;
    Learner coupling({.margin = Decibels{1}});
    for (int i = 0; i * hop < 20; ++i) coupling(0, 3e-4F, false, 0);
    learnt_in_noise(coupling, 120, 0.001F, noise);
    const float known = learnt_in_noise(coupling, 60, 0.001F, noise);
    for (int i = 0; i * hop < 60; ++i) coupling(noise, 3e-4F, false, noise);
    EXPECT_EQ(coupling(noise, 3e-4F, false, noise), known) << "after a minute of the receiver's own noise";
}

TEST(TheCoupling, IsLearntOfAllThatSoundsWhereTheReceiverIsNotMuted) {
    const Power noise = 2e-4F;
    Learner coupling({.margin = Decibels{1}, .muted_on_air = false});
    learnt_in_noise(coupling, 60, 0.001F, noise);
    for (int i = 0; i * hop < 60; ++i) coupling(noise, 3e-4F, false, noise);
    EXPECT_GT(to_dbfs(coupling(noise, 3e-4F, false, noise)).value, -5);
}

TEST(TheCoupling, IsTheSetOneWhenItIsNotToLearn) {
    Learner coupling({.coupling = Decibels{-12}, .learn = false});
    EXPECT_NEAR(to_dbfs(learnt(coupling, 10, 0.001F)).value, -12, 0.01);
}

TEST(TheCoupling, IsNoneWithoutAntiTrip) {
    Learner coupling({.enabled = false});
    EXPECT_EQ(learnt(coupling, 10, 0.1F), 0.0F);
}

}  // namespace
}  // namespace tripline::dsp
