// The speech voltmeter against values computed for ITU-T P.56 method B (any
// implementation agrees within 0.5 dB; constants as in the ITU-T G.191 software).
#include "dsp/speech_level.h"

#include <gtest/gtest.h>

#include <numbers>

namespace tripline::dsp {
namespace {

constexpr double dbov = 3.01;  // dBFS less dBov
constexpr double rate = 16000;

void push_tone(SpeechLevel& meter, double seconds, double amplitude) {
    for (int n = 0; n < static_cast<int>(seconds * rate); ++n)
        meter.push(static_cast<float>(amplitude *
                                      std::sin(2 * std::numbers::pi * 1000 * n / rate)));
}

TEST(TheSpeechLevel, OfASteadySineIsItsLevel) {
    SpeechLevel meter(Hertz{rate});
    push_tone(meter, 5, 0.1);
    EXPECT_NEAR(meter.long_term().value - dbov, -23.01, 0.05);
    EXPECT_NEAR(meter.active().value - dbov, -22.99, 0.2);
    EXPECT_NEAR(meter.activity(), 0.995, 0.01);
}

TEST(TheSpeechLevel, LeavesLongPausesOut) {
    SpeechLevel meter(Hertz{rate});
    for (int i = 0; i < 5; ++i) {
        push_tone(meter, 1, 0.1);
        push_tone(meter, 1, 0);
    }
    EXPECT_NEAR(meter.long_term().value - dbov, -26.02, 0.05);
    EXPECT_NEAR(meter.active().value - dbov, -24.06, 0.2);
    EXPECT_NEAR(meter.activity(), 0.638, 0.02);
}

TEST(TheSpeechLevel, CountsPausesShorterThanTheHangoverAsSpeech) {
    SpeechLevel meter(Hertz{rate});
    for (int i = 0; i < 20; ++i) {
        push_tone(meter, 0.3, 0.1);
        push_tone(meter, 0.1, 0);
    }
    EXPECT_NEAR(meter.active().value - dbov, -24.25, 0.2);
    EXPECT_NEAR(meter.activity(), 0.997, 0.01);
}

TEST(TheSpeechLevel, FollowsTheGainDecibelForDecibel) {
    for (const double gain_db : {-30.0, -15.0, 0.0, 15.0}) {
        SpeechLevel meter(Hertz{rate});
        push_tone(meter, 1, 0.1 * std::pow(10.0, gain_db / 20));
        push_tone(meter, 1, 0);
        EXPECT_NEAR(meter.active().value - gain_db, -20.9, 0.6) << gain_db;
    }
}

TEST(TheSpeechLevel, OfSilenceOrNothingIsTheLowestFigure) {
    SpeechLevel meter(Hertz{rate});
    EXPECT_EQ(meter.active().value, -200);
    EXPECT_EQ(meter.long_term().value, -200);
    EXPECT_EQ(meter.activity(), 0);
    push_tone(meter, 1, 0);
    EXPECT_EQ(meter.active().value, -200);
    EXPECT_EQ(meter.activity(), 0);
}

TEST(TheSpeechLevel, StartsAnewAfterAReset) {
    SpeechLevel meter(Hertz{rate});
    push_tone(meter, 1, 0.9);
    meter.reset();
    push_tone(meter, 5, 0.1);
    EXPECT_NEAR(meter.active().value - dbov, -22.99, 0.2);
}

TEST(TheSpeechLevel, RefusesARateOfZero) { EXPECT_THROW(SpeechLevel(Hertz{0}), std::invalid_argument); }

}  // namespace
}  // namespace tripline::dsp
