// The voice channel, 300 to 3000 Hz (common practice), at every rate of the trade.
#include "dsp/voice_band.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>
#include <random>
#include <vector>

namespace tripline::dsp {
namespace {

class TheVoiceBand : public testing::TestWithParam<double> {
protected:
    /// Gain in dB at a frequency, measured on the second half of a second of sine.
    double gain_at(double frequency) const {
        const double rate = GetParam();
        VoiceBand band({}, Hertz{rate});
        double in = 0;
        double out = 0;
        for (int n = 0; n < static_cast<int>(rate); ++n) {
            const auto x = static_cast<float>(std::sin(2 * std::numbers::pi * frequency * n / rate));
            const float y = band(both(x))[0];
            if (n < static_cast<int>(rate) / 2) continue;
            in += x * x;
            out += y * y;
        }
        return 10 * std::log10(out / in + 1e-20);
    }
};

TEST_P(TheVoiceBand, IsThreeDecibelsDownAtItsEdges) {
    EXPECT_NEAR(gain_at(300), -3.0, 0.5);
    EXPECT_NEAR(gain_at(3000), -3.0, 0.5);
}

TEST_P(TheVoiceBand, IsFlatInside) {
    for (const double f : {500.0, 1000.0, 2000.0}) EXPECT_NEAR(gain_at(f), 0, 0.7) << f;
}

TEST_P(TheVoiceBand, StopsHumAndHiss) {
    EXPECT_LT(gain_at(50), -55);
    EXPECT_LT(gain_at(100), -35);
    EXPECT_LT(gain_at(150), -22);
    if (GetParam() >= 16000) {
        EXPECT_LT(gain_at(6000), -22);
    }
}

TEST_P(TheVoiceBand, TakesOutTheConstantPart) {
    VoiceBand band({}, Hertz{GetParam()});
    Pair y{};
    for (int n = 0; n < static_cast<int>(GetParam()); ++n) y = band(both(0.5F));
    EXPECT_LT(std::abs(y[0]), 1e-4F);
    EXPECT_LT(std::abs(band.without_dc()[0]), 1e-4F);
}

TEST_P(TheVoiceBand, PassesABlockAsItPassesSampleAfterSample) {
    const unsigned seed = std::random_device{}();
    RecordProperty("seed", std::to_string(seed));
    std::mt19937 random(seed);
    std::normal_distribution<float> noise;
    VoiceBand one_by_one({}, Hertz{GetParam()});
    VoiceBand in_blocks({}, Hertz{GetParam()});
    for (int i = 0; i < 500; ++i) {
        std::vector<float> microphone(random() % 20);
        std::vector<float> receiver(microphone.size());
        for (std::vector<float>* sound : {&microphone, &receiver}) std::ranges::generate(*sound, [&] { return noise(random); });
        std::vector<Pair> flat(microphone.size());
        std::vector<Pair> out(microphone.size());
        in_blocks(microphone, receiver, flat, [&](std::size_t n, Pair passed) { out[n] = passed; });
        for (std::size_t n = 0; n < out.size(); ++n) {
            const Pair passed = one_by_one(Pair{microphone[n], receiver[n]});
            for (int input : {0, 1}) {
                ASSERT_EQ(out[n][input], passed[input]) << "seed " << seed;
                ASSERT_EQ(flat[n][input], one_by_one.without_dc()[input]) << "seed " << seed;
            }
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Rates, TheVoiceBand,
                         testing::Values(8000.0, 11025.0, 16000.0, 44100.0, 48000.0, 96000.0,
                                         192000.0));

}  // namespace
}  // namespace tripline::dsp
