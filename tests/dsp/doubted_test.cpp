// What keyed and was no speech is remembered by its kind and level until the operator has spoken often enough.
#include "dsp/doubted.h"

#include "tests/dsp/sounds.h"

#include <gtest/gtest.h>

namespace tripline::dsp {
namespace {

/// The operator speaks every 25 seconds, and a chair creaks after each over: how often it keys.
int keys_of_chair(Dbfs chair, int times) {
    const Sound over = voice(Dbfs{-18}, 1, 3) + tone(chair, 110, 22, 22.025);
    const Sound room = noise(Dbfs{-62}, 0, 1e9);
    Detector detector({}, Hertz{rate});
    const auto heard = hear(detector, 25 * times, [&](double t) { return room(t) + over(std::fmod(t, 25)); });
    int keys = 0;
    for (std::size_t i = 1; i < heard.size(); ++i)
        if (heard[i].held && !heard[i - 1].held && i % 25000 > 21000) ++keys;
    return keys;
}

TEST(TheDetector, IsKeyedByAChairThatCreaksNowAndThenTheLessOftenTheMoreItHasBeen) {
    EXPECT_LE(keys_of_chair(Dbfs{-26}, 12), 4);
}

/// Overs of the operator's, begun with no such sound, until it is believed again.
int overs_until_believed(Doubted& doubted, Power peak) {
    int overs = 0;
    for (; !doubted.believes(peak); ++overs) {
        doubted.keyed(false, 0, 1);
        doubted.operator_spoke();
    }
    return overs;
}

void mistake(Doubted& doubted, Power peak) {
    doubted.keyed(true, peak, 1);
    doubted.mistaken();
}

TEST(Doubted, BelievesWhatIsLouderThanTheMistakesAndTheRestTheLaterTheMoreThereWere) {
    Doubted doubted;
    for (const int overs : {1, 3, 7, 15, 15}) {
        mistake(doubted, 1e-3F);
        EXPECT_TRUE(doubted.believes(1.3e-3F));
        EXPECT_FALSE(doubted.believes(1.2e-3F)) << "no chair creaks twice alike";
        EXPECT_EQ(overs_until_believed(doubted, 1e-3F), overs);
    }
}

TEST(Doubted, ForgetsTheMistakesOverTheOperatorsOvers) {
    Doubted doubted;
    mistake(doubted, 1e-3F);
    overs_until_believed(doubted, 1e-3F);
    doubted.keyed(true, 2e-3F, 1);   // louder: says nothing of those
    doubted.operator_spoke();
    mistake(doubted, 1e-3F);
    EXPECT_EQ(overs_until_believed(doubted, 1e-3F), 3);
    for (int i = 0; i < 2; ++i) {
        doubted.keyed(true, 1e-3F, 1);   // as soft, and his
        doubted.operator_spoke();
    }
    mistake(doubted, 1e-3F);
    EXPECT_EQ(overs_until_believed(doubted, 1e-3F), 1);
}

TEST(Doubted, IsNotSharedByWhatBeganOtherwiseNorDoubtsMoreThanItMay) {
    Doubted doubted;
    doubted.keyed(false, 1e-3F, 1);
    doubted.mistaken();
    EXPECT_TRUE(doubted.believes(1e-3F));
    doubted.keyed(true, 1e-1F, 1e-3F);
    doubted.mistaken();
    EXPECT_TRUE(doubted.believes(2e-3F));
}

}  // namespace
}  // namespace tripline::dsp
