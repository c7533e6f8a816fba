// The echo model's building blocks.
#include "dsp/echo/clock_watch.h"
#include "dsp/echo/decimator.h"
#include "dsp/echo/explained.h"
#include "dsp/echo/real_fft.h"
#include "dsp/echo/share.h"
#include "tests/echo/sounds.h"

#include <gtest/gtest.h>

#include <complex>

namespace tripline::echo_test {
namespace {

using dsp::echo::block;

std::array<float, 2 * block> random_block(unsigned seed) {
    std::array<float, 2 * block> x;
    const Samples noise = white(0.04, 1, seed);
    std::copy_n(noise.begin(), x.size(), x.begin());
    return x;
}

TEST(TheTransform, AgreesWithItsDefinition) {
    const dsp::echo::RealFft fft;
    const auto x = random_block(1);
    dsp::echo::Spectrum spectrum;
    fft.forward(x, spectrum);
    for (std::size_t k = 1; k < block; ++k) {
        std::complex<double> bin;
        for (std::size_t i = 0; i < x.size(); ++i)
            bin += static_cast<double>(x[i]) *
                   std::polar(1.0, -std::numbers::pi * static_cast<double>(k * i) / block);
        EXPECT_NEAR(static_cast<double>(spectrum.re[k]), bin.real(), 1e-4);
        EXPECT_NEAR(static_cast<double>(spectrum.im[k]), bin.imag(), 1e-4);
    }
}

TEST(TheTransform, IsUndoneSaveForBothEndsOfTheBand) {
    const dsp::echo::RealFft fft;
    auto x = random_block(2);
    double even = 0, odd = 0;
    for (std::size_t i = 0; i < x.size(); ++i) (i % 2 == 0 ? even : odd) += static_cast<double>(x[i]) / block;
    for (std::size_t i = 0; i < x.size(); ++i) x[i] -= static_cast<float>(i % 2 == 0 ? even : odd);
    dsp::echo::Spectrum spectrum;
    std::array<float, 2 * block> back;
    fft.forward(x, spectrum);
    fft.inverse(spectrum, back);
    for (std::size_t i = 0; i < x.size(); ++i) EXPECT_NEAR(back[i], x[i], 1e-5);
}

/// Level in dB at which a tone leaves the decimator.
double passed(double hertz, double from_rate) {
    dsp::echo::Decimator decimator{Hertz{from_rate}};
    double sum = 0;
    int count = 0;
    for (int i = 0; i < static_cast<int>(from_rate / 2); ++i) {
        const double phase = 2 * std::numbers::pi * hertz * i / from_rate;
        if (decimator.push(dsp::Pair{static_cast<float>(std::sin(phase)), 0}) && i > from_rate / 8) {
            sum += 2 * static_cast<double>(decimator.out()[0]) * static_cast<double>(decimator.out()[0]);
            ++count;
        }
    }
    return decibels(sum / count);
}

TEST(TheDecimator, PassesTheVoiceBandAndNoAliasesIntoIt) {
    for (const double from : {8000.0, 11025.0, 16000.0, 44100.0, 48000.0, 96000.0, 192000.0}) {
        const double to = dsp::echo::Decimator{Hertz{from}}.rate().value;
        EXPECT_GE(to, 8000);
        EXPECT_LT(to, 16000);
        for (const double hertz : {310.0, 1010.0, 2990.0}) EXPECT_NEAR(passed(hertz, from), 0, 0.2) << from;
        if (to == from) continue;
        for (const double alias : {500.0, 2000.0, 3290.0}) EXPECT_LT(passed(to - alias, from), -48) << from;
    }
}

TEST(TheShare, IsLearntApartForLoudAndSoft) {
    dsp::echo::Share share(0.0005, 8);
    for (int i = 0; i < 4000; ++i) {
        share(0.01F * 0.001F, 0.001F);
        share(0.1F * 0.1F, 0.1F);
        if (i % 32 == 0) share.interrupt();
    }
    EXPECT_FALSE(share.known()) << "every stretch was interrupted";
    for (int i = 0; i < 4000; ++i) share(0.01F * 0.001F, 0.001F);
    for (int i = 0; i < 4000; ++i) share(0.1F * 0.1F, 0.1F);
    EXPECT_TRUE(share.known());
    EXPECT_NEAR(share.at(0.001F), 2 * 0.01F, 1e-4);
    EXPECT_NEAR(share.at(0.1F), 2 * 0.1F, 1e-4);
}

TEST(TheShare, ExpectsMoreOfALevelNotHeardYet) {
    dsp::echo::Share share(0.0005, 8);
    for (int i = 0; i < 4000; ++i) share(0.01F * 0.001F, 0.001F);
    EXPECT_NEAR(share.at(0.004F), 8 * 2 * 0.01F, 1e-3);
    EXPECT_NEAR(share.at(0.00025F), 4 * 2 * 0.01F, 1e-3);
}

TEST(TheShare, IsNotHeldUpByALevelHeardWhenTheModelWasNew) {
    dsp::echo::Share share(0.0005, 8);
    for (int i = 0; i < 4000; ++i) share(1.0F * 0.001F, 0.001F);
    for (int i = 0; i < 4000; ++i) share(0.01F * 0.004F, 0.004F);
    EXPECT_NEAR(share.at(0.001F), 4 * 2 * 0.01F, 1e-3);
}

TEST(TheShare, ForgivesAFewKnocksOfTheTable) {
    dsp::echo::Share share(0.0005, 8);
    for (int i = 0; i < 24 * 128; ++i) share((i / 128 % 12 == 0 ? 10.0F : 0.01F) * 0.001F, 0.001F);
    EXPECT_NEAR(share.at(0.001F), 2 * 0.01F, 1e-4);
}

TEST(WhatIsExplained, IsAMeanOverHopsHoweverLoud) {
    dsp::echo::Explained explained(0.001);
    EXPECT_EQ(explained.share(), 0);
    for (int hop = 0; hop < 5000; ++hop) explained(1e-4F, 0.05F * 1e-4F);
    EXPECT_NEAR(explained.share(), 0.95, 1e-4);
    for (int hop = 0; hop < 100; ++hop) explained(1.0F, 1.0F);
    EXPECT_GT(explained.share(), 0.8) << "a word over a soft receiver";
    for (int hop = 0; hop < 400; ++hop) explained(1e-4F, 1e-4F);
    EXPECT_LT(explained.share(), 0.6) << "half a second of a model that no longer holds";
}

TEST(WhatIsExplained, ForgetsNothingWhileTheRoomIsAsLoud) {
    dsp::echo::Explained explained(0.001);
    for (int hop = 0; hop < 1000; ++hop) explained(1e-4F, 1e-5F);
    for (int hop = 0; hop < 1000; ++hop) explained(0.0F, 0.0F);
    EXPECT_NEAR(explained.share(), 0.9, 1e-4);
}

TEST(TheClockWatch, TellsADriftFromACarriedLoudspeaker) {
    dsp::echo::ClockWatch drift;
    dsp::echo::ClockWatch carried;
    dsp::echo::ClockWatch still;
    for (int i = 0; i < 16; ++i) {
        drift(4096.0 * i, 160 + 100e-6 * 4096 * i);
        carried(4096.0 * i, i < 9 ? 160 : 180);
        still(4096.0 * i, 160 + 0.1 * (i % 3));
    }
    EXPECT_TRUE(drift.differ());
    EXPECT_NEAR(drift.drift_ppm(), 100, 1);
    EXPECT_FALSE(carried.differ());
    EXPECT_FALSE(still.differ());
}

}  // namespace
}  // namespace tripline::echo_test
