#include "daemon/audio/monitor_bridge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace tripline::audio {
namespace {

TEST(TheBridge, GivesSilenceUntilHalfFull) {
    MonitorBridge bridge(1000);
    const std::vector<float> ones(100, 1.0F);
    std::vector<float> out(100, 5.0F);
    bridge.push(ones);
    bridge.pull(out);
    EXPECT_EQ(out, std::vector<float>(100, 0.0F));
    EXPECT_EQ(bridge.slips(), 0U);
}

TEST(TheBridge, KeepsTheOrderOfSamples) {
    MonitorBridge bridge(64);
    float next = 0;
    float expected = 0;
    std::vector<float> in(48), out(32);
    for (int i = 0; i < 200; ++i) {
        if (i % 3 != 2) {
            for (float& sample : in) sample = ++next;
            bridge.push(in);
        }
        bridge.pull(out);
        for (const float sample : out) {
            if (sample == 0) continue;
            EXPECT_GT(sample, expected);
            expected = sample;
        }
    }
    EXPECT_GT(expected, 5000);
}

/// Pulls 480 frames each time, while the other device delivers `a_block` on average.
std::uint64_t slips_in_an_hour(double a_block) {
    MonitorBridge bridge(4096);
    std::vector<float> out(480);
    double owed = 0;
    for (int i = 0; i < 360'000; ++i) {
        owed += a_block;
        const std::vector<float> in(static_cast<std::size_t>(owed), 0.5F);
        owed -= std::floor(owed);
        bridge.push(in);
        bridge.pull(out);
    }
    return bridge.slips();
}

// A crystal of 100 ppm is a poor one; both poor, and apart: 200 ppm, 34,560 frames an hour.
TEST(TheBridge, LeavesOutNoMoreThanAFastDeviceDeliversTooMuch) {
    EXPECT_NEAR(static_cast<double>(slips_in_an_hour(480 * 1.0002)), 34'560, 5000);
}

TEST(TheBridge, PutsInNoMoreThanASlowDeviceLacks) {
    EXPECT_LT(slips_in_an_hour(480 * 0.9998), 40'000U);
}

}  // namespace
}  // namespace tripline::audio
