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

}  // namespace
}  // namespace tripline::audio
