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
    float operator()(Power microphone, Power receiver, bool keyed) {
        return coupling(balance(Pair{microphone, receiver}), keyed);
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
