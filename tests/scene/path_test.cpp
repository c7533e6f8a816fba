#include "tests/scene/room.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tripline::scene {
namespace {

using std::chrono_literals::operator""ms;

constexpr Hertz rate{16000};

TEST(TheConvolver, EqualsTheSumItStandsFor) {
    Random random(4);
    std::vector<float> response(500);
    for (float& r : response) r = static_cast<float>(random.normal());
    std::vector<float> in(2000);
    for (float& x : in) x = static_cast<float>(random.normal());
    Convolver convolver(response);
    for (std::size_t n = 0; n < in.size(); ++n) {
        const float out = convolver(in[n]);
        double sum = 0;
        for (std::size_t k = 0; k < response.size() && k + Convolver::block <= n; ++k) {
            sum += static_cast<double>(response[k]) * in[n - Convolver::block - k];
        }
        ASSERT_NEAR(out, sum, 1e-3) << n;
    }
}

TEST(TheRoom, FallsBySixtyDecibelsInItsReverberationTime) {
    const auto response = room_response({.reverberation = 400ms}, 5, rate);
    const auto power = [&](double from_s, double to_s) {
        double sum = 0;
        for (auto i = static_cast<std::size_t>(from_s * rate.value); i < static_cast<std::size_t>(to_s * rate.value); ++i) {
            sum += static_cast<double>(response[i]) * response[i];
        }
        return 10 * std::log10(sum);
    };
    // 60 dB in 400 ms is 30 dB in 200 ms.
    EXPECT_NEAR(power(0.05, 0.15) - power(0.25, 0.35), 30, 1);
    EXPECT_NEAR(power(0, 0.4), 0, 0.1);
}

TEST(ThePath, DelaysByWhatItIsToldWithAndWithoutARoom) {
    for (const Duration reverberation : {0ms, 300ms}) {
        Path path({.delay = 20ms, .reverberation = reverberation}, Dbfs{-20}, 1, rate);
        int first = -1;
        for (int n = 0; n < 1000 && first < 0; ++n) {
            if (std::abs(path(n == 0 ? 1.0F : 0.0F)) > 0.1F) first = n;
        }
        EXPECT_EQ(first, 320);
    }
}

TEST(ThePath, BendsLoudSoundsOnlyWhenItIsDriven) {
    Path clean({.delay = 0ms}, Dbfs{-20}, 1, rate);
    Path bent({.delay = 0ms, .drive = 1}, Dbfs{-20}, 1, rate);
    for (const float x : {0.001F, 0.5F}) {
        clean(x);
        bent(x);
        const float a = clean(0);
        const float b = bent(0);
        EXPECT_FLOAT_EQ(a, x);
        EXPECT_EQ(std::abs(b / x - 1) > 0.1F, x > 0.1F);
    }
}

}  // namespace
}  // namespace tripline::scene
