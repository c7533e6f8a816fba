// The parts, on sounds whose figures are known.
#include "daemon/inspect/clip_counter.h"
#include "daemon/inspect/crackle_counter.h"
#include "daemon/inspect/hum.h"
#include "daemon/inspect/whistle.h"
#include "tests/inspect/sounds.h"

#include <gtest/gtest.h>

namespace tripline::inspect {
namespace {

constexpr unsigned seed = 7;

template <typename Counter>
Counter counted(const Samples& samples, Hertz at = rate) {
    Counter counter(at);
    for (const float sample : samples) counter.push(sample);
    return counter;
}

Hum hum_of(const Samples& samples, Hertz at = rate) {
    Spectra spectra(at);
    SteadySpectrum steady(spectra);
    for (const float sample : samples) {
        if (spectra.push(sample, 0)) steady.take(spectra.window().microphone);
    }
    return find_hum(steady);
}

Whistle::Tone whistle_of(const Samples& samples) {
    Spectra spectra(rate);
    Whistle whistle(spectra);
    for (const float sample : samples) {
        if (spectra.push(0, sample)) whistle.take(spectra.window().receiver);
    }
    return whistle.longest();
}

TEST(Hum, IsMeasuredWithinHalfADecibelAtEveryRate) {
    for (const double hertz : {8000.0, 16000.0, 44100.0, 48000.0, 192000.0}) {
        const Hertz at{hertz};
        const auto hum = hum_of(tone(50, -40, 8, at) + tone(150, -46, 8, at) + noise(-70, 8, seed, at), at);
        EXPECT_EQ(hum.mains_hz, 50) << hertz;
        EXPECT_EQ(hum.strongest_hz, 50) << hertz;
        EXPECT_NEAR(hum.total.value, 10 * std::log10(1e-4 + std::pow(10, -4.6)), 0.5) << hertz;
    }
}

// EN 50160: the frequency of the mains keeps within 1 %.
TEST(Hum, IsFoundAtTheEdgesOfTheMainsAndUnderAVoice) {
    for (const double hz : {49.5, 50.5, 59.4, 60.6}) {
        const auto hum = hum_of(tone(2 * hz, -45, 20) + syllables(-20, 20, seed));
        EXPECT_EQ(hum.strongest_hz, hz < 55 ? 100 : 120) << hz;
        EXPECT_FALSE(hum.odd);
        EXPECT_NEAR(hum.total.value, -45, 2) << hz;
    }
}

TEST(Hum, IsNotHeardInNoiseOrVoice) {
    EXPECT_EQ(hum_of(noise(-30, 20, seed)).mains_hz, 0);
    EXPECT_EQ(hum_of(syllables(-15, 20, seed)).mains_hz, 0);
}

TEST(AWhistle, IsMeasuredInLengthPitchAndLevel) {
    auto sound = noise(-50, 20, seed);
    const auto whistle = tone(1234, -30, 5);
    for (std::size_t i = 0; i < whistle.size(); ++i) sound[i + 100000] += whistle[i];
    const auto found = whistle_of(sound);
    EXPECT_NEAR(found.seconds, 5, 0.7);
    EXPECT_NEAR(found.hz, 1234, 1.5);
    EXPECT_NEAR(found.level.value, -30, 0.5);
}

TEST(AWhistle, IsNeitherNoiseNorHum) {
    EXPECT_LT(whistle_of(noise(-20, 20, seed)).seconds, 2);
    EXPECT_LT(whistle_of(syllables(-20, 20, seed)).seconds, 2);
    EXPECT_EQ(whistle_of(tone(250, -30, 20) + noise(-60, 20, seed)).seconds, 0);
}

TEST(Clipping, IsCountedAtFullScaleAndBelowIt) {
    auto loud = scaled(tone(400, 0, 1), 2);
    for (float& sample : loud) sample = std::clamp(sample, -1.0F, 1.0F);
    EXPECT_NEAR(static_cast<double>(counted<ClipCounter>(loud).tops()), 800, 2);
    auto early = scaled(tone(400, 0, 1), 1);
    for (float& sample : early) sample = std::clamp(sample, -0.6F, 0.6F);
    EXPECT_NEAR(static_cast<double>(counted<ClipCounter>(early).tops()), 800, 2);
    auto turned_down = scaled(early, 0.2F);   // after the stage that cut them
    EXPECT_NEAR(static_cast<double>(counted<ClipCounter>(turned_down).tops()), 800, 2);
}

TEST(Clipping, IsNotSeenInALoudToneOrAQuietOneOf16Bits) {
    EXPECT_EQ(counted<ClipCounter>(tone(400, -0.1, 2)).tops(), 0);
    for (const double dbfs : {-1.0, -6.0, -11.0, -19.0, -40.0}) {
        auto sound = tone(80, dbfs, 2, Hertz{48000});
        for (float& sample : sound) sample = std::round(sample * 32768) / 32768;
        EXPECT_EQ(counted<ClipCounter>(sound, Hertz{48000}).tops(), 0) << dbfs;
    }
}

TEST(Crackle, IsCountedStepByStep) {
    auto sound = noise(-60, 10, seed);
    for (std::size_t at = 8000; at < 152000; at += 8000) {
        for (std::size_t i = at; i < at + 3000; ++i) sound[i] += 0.1F;
    }
    EXPECT_EQ(counted<CrackleCounter>(sound).crackles(), 36);
}

TEST(Crackle, IsNotTheKeyOfAKeyboardNorNoiseNorAVoice) {
    auto typing = noise(-60, 10, seed);
    const auto burst = noise(-20, 0.012, seed);
    for (std::size_t at = 8000; at + 8000 < typing.size(); at += 3000) {
        for (std::size_t i = 0; i < burst.size(); ++i) {
            const double fade = std::exp(-static_cast<double>(i) / 64);
            typing[at + i] += static_cast<float>(burst[i] * fade);
        }
    }
    EXPECT_EQ(counted<CrackleCounter>(typing).crackles(), 0);
    EXPECT_EQ(counted<CrackleCounter>(noise(-20, 60, seed)).crackles(), 0);
    EXPECT_EQ(counted<CrackleCounter>(syllables(-20, 60, seed)).crackles(), 0);
}

}  // namespace
}  // namespace tripline::inspect
