#include "dsp/lull.h"
#include "tests/dsp/sounds.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tripline::dsp {
namespace {

constexpr double hop = 1e-3;
constexpr Power own = 1e-3F;

bool after(Lull& lull, double seconds, Power power, Power low = 0) {
    bool lasts = false;
    for (int i = 0; i < static_cast<int>(seconds / hop); ++i) lasts = lull(power, low, own);
    return lasts;
}

TEST(TheLull, LastsOnceNothingOfTheOperatorWasHeardForLong) {
    Lull lull({}, hop);
    EXPECT_FALSE(after(lull, 1.9, 1e-4F));
    EXPECT_TRUE(after(lull, 0.2, 1e-4F));
    EXPECT_TRUE(after(lull, 0.01, 1.5F * own)) << "others may reach as much";
    EXPECT_FALSE(after(lull, 0.01, 3 * own)) << "he speaks up";
    EXPECT_FALSE(after(lull, 1.9, 1e-4F));
}

TEST(TheLull, DoesNotTakeTheEchoOfHisLastWordForOthers) {
    Lull lull({}, hop);
    after(lull, 0.1, 3 * own);
    after(lull, 0.9, 0.5F * own, 0.1F * own);
    after(lull, 3, 1e-5F, 1e-6F);
    after(lull, 0.1, 1.5F * own);
    after(lull, 0.9, 0.5F * own, 0.1F * own);
    EXPECT_FLOAT_EQ(lull.peak(), 1e-5F);
    EXPECT_FLOAT_EQ(lull.low_peak(), 1e-6F);
}

const Sound room = noise(Dbfs{-60}, 0, 1e9);
bool let_go(const Heard& h) { return !h.held; }

TEST(TheDetector, LetsGoThoughAnotherGoesOnTalkingInTheRoom) {
    for (const double softer : {14.0, 16.0, 20.0}) {
        Detector detector({}, Hertz{rate});
        const Sound other = voice(Dbfs{-20 - softer}, 12.5, 60);
        const auto heard = hear(detector, 60, room + other + voice(Dbfs{-20}, 12, 15) + voice(Dbfs{-20}, 40, 42));
        const double off = first(heard, let_go, 12.5);
        EXPECT_GT(off, 15) << softer << " dB";
        EXPECT_LT(off, 15 + 2 + 1.5 + 0.1) << softer << " dB: the lull, and the hang time after it";
        EXPECT_NEAR(first(heard, held, off + 0.01), 40, 0.1) << softer << " dB: nobody but the operator keys again";
    }
}

TEST(TheDetector, HoldsTheKeyThroughWordsThatTheOperatorSaysSoftly) {
    Detector detector({}, Hertz{rate});
    const Sound soft = voice(Dbfs{-34}, 14, 15.9);
    const auto heard = hear(detector, 20, room + voice(Dbfs{-20}, 12, 14) + soft + voice(Dbfs{-20}, 17, 18));
    const double on = first(heard, held);
    EXPECT_NEAR(first(heard, let_go, on), 18 + 1.5, 0.2);
}

TEST(TheDetector, DoesNotLetGoWhileAWordBeginsThatHasYetToQualify) {
    Detector once({}, Hertz{rate});
    const Sound word = voice(Dbfs{-20}, 2, 4);
    const double off = first(hear(once, 8, room + word), let_go, 3);
    for (double early = 0.016; early < 0.08; early += 0.004) {
        Detector detector({}, Hertz{rate});
        const auto heard = hear(detector, 9, room + word + voice(Dbfs{-20}, off - early, off + 1));
        EXPECT_GT(first(heard, let_go, 3), off + 1) << early << " s before the hang time ends";
    }
}

TEST(TheDetector, HearsASoftVoiceThatBeginsWithAMurmurThoughTheRoomMayHaveBeenLouder) {
    Detector detector({}, Hertz{rate});   // wary: 32 dB over the floor is -28 dBFS
    const Sound murmur = tone(Dbfs{-30}, 120, 1, 1.15);
    const auto heard = hear(detector, 6, room + murmur + voice(Dbfs{-36}, 1.1, 3));
    const double on = first(heard, held);
    EXPECT_NEAR(on, 1.03, 0.03);
    EXPECT_NEAR(first(heard, let_go, on), 3 + 1.5, 0.2);
}

/// Hum with eleven harmonics that fall with their number to a power, its level swaying.
Sound hum(Dbfs level, double mains, double falls, double sway, double sways_hz) {
    const double gain = std::pow(10.0, level.value / 20);
    return [=](double t) {
        double sum = 0;
        for (int k = 1; k <= 12; ++k) sum += std::pow(k, -falls) * std::sin(2 * std::numbers::pi * mains * k * t + k * k);
        return static_cast<float>(gain * sum * (1 + sway * std::sin(2 * std::numbers::pi * sways_hz * t)));
    };
}

double keyed(const std::vector<Heard>& heard) {
    return hop_seconds * static_cast<double>(std::ranges::count_if(heard, held));
}

TEST(TheDetector, DoesNotTakeAPulsingHumForTheOperatorThoughItBeginsAsAMurmur) {
    Detector detector({}, Hertz{rate});
    EXPECT_LT(keyed(hear(detector, 20, room + hum(Dbfs{-24}, 92, 2, 0.8, 4))), 6);
}

TEST(TheDetector, LetsGoOfAHumWhoseLevelSways) {
    for (const double engine : {85.0, 90.0, 95.0}) {
        Detector detector({}, Hertz{rate});
        EXPECT_LT(keyed(hear(detector, 8, room + hum(Dbfs{-20}, engine, 0.7, 0.2, 0.9))), 1) << engine << " Hz";
    }
}

}  // namespace
}  // namespace tripline::dsp
