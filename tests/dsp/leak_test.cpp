#include "dsp/leak.h"

#include "dsp/coupling.h"

#include <gtest/gtest.h>

#include <random>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

constexpr double hop = 0.5e-3;
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
float learnt(Coupling& coupling, double seconds, float ratio, bool keyed = false) {
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
    Coupling coupling({.coupling = Decibels{6}}, hop);
    for (int i = 0; i < 20000; ++i)
        ASSERT_NEAR(coupling(1e-4F, 0, false), to_ratio(Decibels{6}), 1e-3);
}

TEST(TheCoupling, IsLearntWithinTwoSeconds) {
    Coupling coupling({.margin = Decibels{1}}, hop);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 2, 0.01F)).value, -20 + 1, 0.3);
}

TEST(TheCoupling, FollowsALoudspeakerThatIsTurnedUp) {
    Coupling coupling({.margin = Decibels{1}}, hop);
    learnt(coupling, 10, 0.01F);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 7, 0.1F)).value, -10 + 1, 0.3);
}

TEST(TheCoupling, IsNotRaisedByClicksAtTheMicrophone) {
    Coupling coupling({.margin = Decibels{1}}, hop);
    float out = 0;
    for (int i = 0; i * hop < 12; ++i) {
        const bool click = i % 400 < 80;   // 40 ms, five a second
        out = coupling(click ? 0.3F : 0.001F, 0.1F, false);
    }
    EXPECT_NEAR(to_dbfs(out).value, -20 + 1, 0.6);
}

TEST(TheCoupling, NeverPassesTheSetOne) {
    Coupling coupling({.coupling = Decibels{-6}}, hop);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 10, 5.0F)).value, -6, 0.01);
}

TEST(TheCoupling, LearnsNothingWhileTheStationIsKeyed) {
    Coupling coupling({}, hop);
    learnt(coupling, 10, 0.01F);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 10, 1.0F, true)).value, -20 + 1, 0.3);
}

TEST(TheCoupling, IsTheSetOneWhenItIsNotToLearn) {
    Coupling coupling({.coupling = Decibels{-12}, .learn = false}, hop);
    EXPECT_NEAR(to_dbfs(learnt(coupling, 10, 0.001F)).value, -12, 0.01);
}

TEST(TheCoupling, IsNoneWithoutAntiTrip) {
    Coupling coupling({.enabled = false}, hop);
    EXPECT_EQ(learnt(coupling, 10, 0.1F), 0.0F);
}

}  // namespace
}  // namespace tripline::dsp
