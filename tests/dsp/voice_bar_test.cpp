// The voice bar: what is heard of a voice behind closed lips, before b, d and g. That it lies in the lowest
// harmonics alone, lasts up to a tenth of a second and is some 20 dB softer than the vowels is common knowledge of phonetics (from memory).
#include "dsp/voice_bar.h"

#include "tests/dsp/sounds.h"

#include <gtest/gtest.h>

namespace tripline::dsp {
namespace {

const Sound room = noise(Dbfs{-62}, 0, 1e9);

double first_key(const std::vector<Heard>& heard, double from) {
    for (auto i = static_cast<std::size_t>(from / hop_seconds); i < heard.size(); ++i)
        if (heard[i].held) return static_cast<double>(i) * hop_seconds;
    return -1;
}

/// The operator has spoken at a level and is silent; then something sounds at ten seconds.
double key_at(const Sound& sound, Dbfs spoken = Dbfs{-18}) {
    Detector detector({}, Hertz{rate});
    return first_key(hear(detector, 10.3, room + voice(spoken, 3, 6) + sound), 9);
}

TEST(TheDetector, HearsTheVoiceBarOfAnOperatorItHasHeard) {
    for (const double pitch : {90.0, 130.0, 210.0}) {
        const double at = key_at(tone(Dbfs{-42}, pitch, 10, 10.08));
        EXPECT_GT(at, 10.0) << pitch << " Hz";
        EXPECT_LT(at, 10.04) << pitch << " Hz";
    }
}

TEST(TheDetector, IsDeafToAVoiceBarBeforeTheOperatorWasHeard) {
    Detector detector({}, Hertz{rate});
    EXPECT_EQ(first_key(hear(detector, 20, room + tone(Dbfs{-42}, 130, 19, 19.08)), 0), -1);
}

TEST(TheDetector, IsDeafToABarFurtherUnderTheOperatorThanHisOwn) {
    EXPECT_GT(key_at(tone(Dbfs{-47}, 130, 10, 10.08)), 10.0);
    EXPECT_EQ(key_at(tone(Dbfs{-47}, 130, 10, 10.08), Dbfs{-6}), -1);
}

TEST(TheDetector, IsKeyedOnceAtMostByAChairThatCreaksAndNotInARestlessRoom) {
    Sound creaks = room + voice(Dbfs{-18}, 3, 6);
    for (int i = 0; i < 8; ++i) creaks = creaks + tone(Dbfs{-44}, 110, 10 + 3 * i, 10.09 + 3 * i);
    const auto spells = [](const std::vector<Heard>& heard) {
        int count = 0;
        for (std::size_t i = 9000; i < heard.size(); ++i) count += heard[i].held && !heard[i - 1].held ? 1 : 0;
        return count;
    };
    Detector quiet({}, Hertz{rate});
    EXPECT_LE(spells(hear(quiet, 33, creaks)), 1);
    for (int i = 0; i < 80; ++i) creaks = creaks + noise(Dbfs{-36}, 8 + 0.3 * i, 8.005 + 0.3 * i, 7);   // keys
    Detector restless({}, Hertz{rate});
    EXPECT_EQ(spells(hear(restless, 33, creaks)), 0);
}

TEST(VoiceBar, NeedsItsPitchOnEndInAQuietRoom) {
    const auto hops_until = [](float periodicity, bool wary) {
        VoiceBar bar({}, 1e-3);
        for (int hop = 1; hop <= 200; ++hop) {
            EXPECT_TRUE(bar.follow(1e-4F, 1e-6F, 1e-6F, 1e-2F, 1e-6F));
            if (bar(periodicity, true, wary)) return hop;
        }
        return -1;
    };
    EXPECT_EQ(hops_until(0.84F, false), -1);
    EXPECT_GE(hops_until(0.99F, false), 8) << "as long as it has to last at least";
    EXPECT_GT(hops_until(0.90F, false), 2 * hops_until(0.96F, false) - 2);
    EXPECT_EQ(hops_until(0.99F, true), -1);
}

TEST(VoiceBar, IsBelievedTheLaterTheMoreMistakesThereWere) {
    VoiceBar bar({}, 1e-3);
    const auto heard = [&bar] {
        bar.silence();
        bool any = false;
        for (int hop = 0; hop < 30; ++hop) {
            bar.follow(1e-4F, 1e-6F, 1e-6F, 1e-2F, 1e-6F);
            any = bar(0.97F, true, false) || any;
        }
        return any;
    };
    const auto overs_until_heard = [&] {
        int overs = 0;
        for (; !heard(); ++overs) {
            bar.keyed(false);
            bar.operator_spoke();
        }
        return overs;
    };
    EXPECT_TRUE(heard());
    for (const int overs : {1, 3, 7, 15, 15}) {
        bar.mistaken();
        EXPECT_EQ(overs_until_heard(), overs);
    }
    bar.keyed(true);
    for (int i = 0; i < 3; ++i) bar.operator_spoke();   // with a voice bar that was his
    bar.mistaken();
    EXPECT_EQ(overs_until_heard(), 3);
}

TEST(VoiceBar, IsDarkOnly) {
    VoiceBar bar({}, 1e-3);
    EXPECT_FALSE(bar.follow(1e-4F, 0.5e-4F, 1e-6F, 1e-2F, 1e-6F)) << "the voice band hears half of it";
    EXPECT_EQ(bar.weighed().peak, 0.0F);
    bar.reset();
    EXPECT_TRUE(bar.follow(1e-4F, 0.1e-4F, 1e-6F, 1e-2F, 1e-6F));
}

}  // namespace
}  // namespace tripline::dsp
