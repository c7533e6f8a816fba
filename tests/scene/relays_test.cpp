#include "tests/scene/relays.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace tripline::scene {
namespace {

constexpr Hertz rate{16000};

float highest(Relays& relays, double seconds) {
    float peak = 0;
    for (int i = 0; i < static_cast<int>(seconds * rate.value); ++i) peak = std::max(peak, std::abs(relays.next()));
    return peak;
}

TEST(TheRelays, AreSilentUntilOneMoves) {
    Relays relays(Dbfs{-20}, 1, rate);
    EXPECT_EQ(highest(relays, 1), 0);
}

TEST(TheRelays, StrikeAboutAsLoudAsAskedForAndDieAwayWithin150Ms) {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        SCOPED_TRACE(seed);
        Relays relays(Dbfs{-20}, seed, rate);
        float peak = 0, rest = 0;
        for (std::size_t relay = 0; relay < Relays::count; ++relay) {
            relays.move(relay);
            peak = std::max(peak, highest(relays, 0.15));
            rest = std::max(rest, highest(relays, 0.1));
        }
        EXPECT_NEAR(20 * std::log10(peak), -20, 6);
        EXPECT_LT(rest, peak / 100);
    }
}

TEST(TheRelays, NeverSoundTwiceTheSame) {
    Relays relays(Dbfs{-20}, 1, rate);
    relays.move(0);
    const float first = highest(relays, 0.3);
    relays.move(0);
    EXPECT_NE(highest(relays, 0.3), first);
}

}  // namespace
}  // namespace tripline::scene
