#include "daemon/audio/lifeless.h"

#include <gtest/gtest.h>

#include <array>

namespace tripline::audio {
namespace {

TEST(Lifelessness, IsCountedWhileEveryInputIsExactlyZero) {
    Lifeless lifeless;
    const std::array<float, 480> zero{};
    EXPECT_EQ(lifeless.push(zero, zero).count, 480);
    EXPECT_EQ(lifeless.push(zero, {}).count, 960);
}

TEST(Lifelessness, EndsWithOneStepOfAConverterOnEitherInput) {
    Lifeless lifeless;
    const std::array<float, 480> zero{};
    std::array<float, 480> noise{};
    noise[200] = 1.0F / 8388608;
    lifeless.push(zero, zero);
    EXPECT_EQ(lifeless.push(zero, noise).count, 0);
    EXPECT_EQ(lifeless.push(noise, zero).count, 0);
}

TEST(Lifelessness, IsAMicrophoneThatStandsStillWhateverTheReceiverDoes) {
    Lifeless lifeless;
    std::array<float, 480> stuck{};
    stuck.fill(0.5F);
    std::array<float, 480> noise{};
    noise[7] = 0.25F;
    EXPECT_EQ(lifeless.push(stuck, noise).count, 0) << "the step onto it is a sign of life";
    EXPECT_EQ(lifeless.push(stuck, noise).count, 480);
}

}  // namespace
}  // namespace tripline::audio
