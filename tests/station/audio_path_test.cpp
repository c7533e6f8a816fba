// Look-ahead, gain, limiter and fades, alone and joined.
#include "daemon/station/audio_path.h"

#include "tests/station/seed.h"
#include "tests/station/sounds.h"

#include <gtest/gtest.h>

#include <limits>

namespace tripline::station::test {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr float infinity = std::numeric_limits<float>::infinity();
constexpr float not_a_number = std::numeric_limits<float>::quiet_NaN();

/// Samples that a broken card may hand over: loud, tiny, huge, infinite, none at all.
Samples hostile(std::size_t frames, std::uint32_t seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<float> wave(-1.0F, 1.0F);
    const float bad[]{infinity, -infinity, not_a_number, 1e-45F, -3e38F, 3e38F, 100.0F, 0.0F};
    Samples samples(frames);
    for (float& sample : samples) {
        const auto draw = random();
        sample = draw % 8 == 0 ? bad[draw / 8 % std::size(bad)]
                               : std::exp(4 * wave(random)) * wave(random);
    }
    return samples;
}

TEST(TheLookAhead, DelaysByExactlyItsFrames) {
    for (const std::int64_t delay : {0, 1, 7, 480, 96000}) {
        dsp::LookAhead look_ahead(Frames{delay});
        for (std::int64_t i = 0; i < delay + 100; ++i) {
            const float expected = i < delay ? 0.0F : static_cast<float>(i - delay + 1);
            ASSERT_EQ(look_ahead(static_cast<float>(i + 1)), expected) << delay;
        }
    }
}

TEST(TheLookAhead, IsSilentAfterAReset) {
    dsp::LookAhead look_ahead(Frames{10});
    for (int i = 0; i < 15; ++i) look_ahead(1.0F);
    look_ahead.reset();
    for (int i = 0; i < 10; ++i) EXPECT_EQ(look_ahead(2.0F), 0.0F);
    EXPECT_EQ(look_ahead(2.0F), 2.0F);
}

TEST(TheLimiter, LetsNoSampleAboveTheLimitWhateverComesIn) {
    const std::uint32_t seed = drawn_seed();
    for (const double limit : {-60.0, -12.0, -1.0, 0.0}) {
        for (const double rate : {8000.0, 48000.0, 192000.0}) {
            dsp::Limiter limiter(Dbfs{limit}, 100ms, Hertz{rate});
            for (const float sample : hostile(200000, seed))
                ASSERT_LE(std::abs(static_cast<double>(limiter(sample))),
                          std::pow(10.0, limit / 20.0));
        }
    }
}

TEST(TheLimiter, LeavesQuietSoundAloneToTheBit) {
    dsp::Limiter limiter(Dbfs{-1}, 100ms, Hertz{48000});
    for (const float sample : tone(Hertz{700}, 0.8F, 100ms, Hertz{48000}))
        ASSERT_EQ(limiter(sample), sample);
}

// A release to 1/e in the peak is 8.69 dB a time constant.
TEST(TheLimiter, GivesTheGainBackWithItsRelease) {
    const Hertz rate{48000};
    dsp::Limiter limiter(Dbfs{0}, 100ms, rate);
    limiter(std::exp(2.0F));  // 17.37 dB too loud: back at full gain after two time constants
    const std::size_t two = frames_in(200ms, rate);
    for (std::size_t i = 0; i < two / 2; ++i) limiter(0.0F);
    EXPECT_NEAR(limiter(0.5F), 0.5 / std::exp(1.0), 0.001);
    for (std::size_t i = 0; i < two / 2; ++i) limiter(0.0F);
    EXPECT_NEAR(limiter(0.5F), 0.5, 0.001);
}

TEST(TheFade, MovesNoSampleByMoreThanItsSteepestSlope) {
    const std::int64_t length = 240;
    dsp::Fade fade(Frames{length});
    float before = 0;
    for (int i = 0; i < 2000; ++i) {
        const bool open = i < 100 || (i >= 180 && i < 1000);  // turned round midway, and again
        const float now = fade(1.0F, open);
        ASSERT_LE(std::abs(now - before), 1.5F / static_cast<float>(length) + 1e-6F) << i;
        before = now;
    }
    EXPECT_EQ(before, 0.0F);
}

TEST(TheFade, OfNoLengthSwitchesAtOnce) {
    dsp::Fade fade(Frames{0});
    EXPECT_EQ(fade(0.5F, true), 0.5F);
    EXPECT_EQ(fade(0.5F, false), 0.0F);
    EXPECT_EQ(fade(0.5F, true), 0.5F);
}

TEST(TheTransmitPath, IsSilentWithTheKeyOpenAndPlainWithItClosed) {
    const Hertz rate{48000};
    TransmitPath path(
        TransmitAudioSettings{.look_ahead = 60ms, .gain = Decibels{0}, .limit = Dbfs{-1}}, rate);
    const Samples voice = tone(Hertz{500}, 0.5F, 1s, rate);
    const std::size_t delay = frames_in(60ms, rate);
    const std::size_t fade = frames_in(5ms, rate);
    for (std::size_t i = 0; i < voice.size(); ++i) {
        const bool closed = i >= 10000;
        const float out = path(voice[i], closed);
        if (!closed) {
            ASSERT_EQ(out, 0.0F);
        } else if (i >= 10000 + fade) {
            ASSERT_EQ(out, voice[i - delay]);
        }
    }
}

TEST(TheTransmitPath, AmplifiesASoftVoice) {
    TransmitPath path(
        TransmitAudioSettings{.look_ahead = 0ms, .gain = Decibels{20}, .limit = Dbfs{-1}},
        Hertz{48000});
    for (int i = 0; i < 1000; ++i) path(0.0F, true);
    EXPECT_NEAR(path(0.05F, true), 0.5F, 1e-6);
}

TEST(TheAudioPaths, SendOutOnlyFiniteSamplesUnderTheirLimits) {
    const std::uint32_t seed = drawn_seed();
    const Hertz rate{48000};
    TransmitPath transmit(
        TransmitAudioSettings{.look_ahead = 20ms, .gain = Decibels{60}, .limit = Dbfs{-3}}, rate);
    LoudspeakerPath loudspeaker(5ms, rate);
    const double limit = std::pow(10.0, -3.0 / 20.0);
    std::size_t frame = 0;
    for (const float sample : hostile(400000, seed)) {
        const bool keyed = frame++ / 1000 % 2 == 0;
        ASSERT_LE(std::abs(transmit(sample, keyed)), limit);  // false for a NaN
        ASSERT_LE(std::abs(loudspeaker(sample, keyed)), 1.0F);
    }
}

}  // namespace
}  // namespace tripline::station::test
