#include "dsp/onset.h"

#include "dsp/operator_level.h"
#include "dsp/spell.h"
#include "dsp/voicing.h"

#include <gtest/gtest.h>

#include <numbers>
#include <random>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

constexpr double hop = 0.5e-3;

/// Milliseconds until an envelope of this shape qualifies, or -1.
template <class Shape>
double qualifies(const Shape& power_at_ms, float periodicity = 0, bool wary = false) {
    Onset onset({}, 8ms, hop);
    for (int i = 0; i < 40; ++i) onset.follow(1e-3F, 1);
    for (int i = 0; i < 400; ++i) {
        if (onset.follow(static_cast<float>(power_at_ms(i * 0.5)), 1) &&
            onset.qualified(periodicity, wary))
            return (i + 1) * 0.5;
    }
    return -1;
}

TEST(TheOnset, IgnoresAClickHoweverLoud) {
    for (const double peak : {10.0, 1e3, 1e6})
        EXPECT_EQ(qualifies([&](double t) { return peak * std::exp(-t / 4); }), -1) << peak;
}

TEST(TheOnset, IgnoresASoundShorterThanItsQualifyingTime) {
    EXPECT_EQ(qualifies([](double t) { return t < 6 ? 5.0 : 1e-3; }), -1);
}

TEST(TheOnset, TakesAGradualSoundThatLasts) {
    const double at = qualifies([](double t) { return 0.1 * std::exp(std::min(t, 60.0) / 10); });
    EXPECT_GT(at, 23);
    EXPECT_LT(at, 45);
}

TEST(TheOnset, AsksForLongerAfterASuddenRise) {
    EXPECT_NEAR(qualifies([](double) { return 100.0; }), 60, 2);
}

TEST(TheOnset, TakesASuddenSoundWithPitchSoon) {
    EXPECT_LE(qualifies([](double) { return 100.0; }, 0.9F), 10);
}

TEST(TheOnset, TakesAPitchSoonerThatTheReceiverHasNoPartIn) {
    const auto hops = [](bool alone) {
        Onset onset({}, 8ms, hop);
        int n = 0;
        while (onset.follow(100, 1) && !onset.qualified(0.8F, false, alone)) ++n;
        return n + 1;
    };
    EXPECT_EQ(hops(false), 10);
    EXPECT_EQ(hops(true), 6);
}

TEST(TheOnset, AsksForPitchThatLastsWhenWary) {
    Onset onset({}, 8ms, hop);
    for (int i = 0; i < 20; ++i) onset.follow(100, 1);
    for (int i = 0; i < 4; ++i) EXPECT_FALSE(onset.qualified(0.95F, true)) << "2 ms of it, as in a crowd";
    EXPECT_FALSE(onset.qualified(0.6F, true));
    for (int i = 0; i < 7; ++i) EXPECT_FALSE(onset.qualified(0.95F, true));
    EXPECT_TRUE(onset.qualified(0.95F, true));
}

TEST(TheOnset, AsksForPitchWhenWary) {
    EXPECT_EQ(qualifies([](double t) { return 0.1 * std::exp(std::min(t, 60.0) / 10); }, 0, true), -1);
    EXPECT_GT(qualifies([](double) { return 100.0; }, 0.95F, true), 0);
}

/// Hops until a pitch qualifies that is heard over the threshold for `lasts`, or -1.
int sung_after(float periodicity, int lasts, bool near_voice = false) {
    Onset onset({}, 8ms, hop);
    for (int i = 1; i <= 100; ++i) {
        onset.follow(i % 20 < 6 ? 10.0F : 0.1F, 1);  // a low voice: 3 ms of each 10 above the threshold
        if (onset.sung(periodicity, i <= lasts, near_voice)) return i;
    }
    return -1;
}

TEST(TheOnset, TakesALowVoiceWhosePowerFallsBetweenItsPulses) {
    EXPECT_EQ(sung_after(0.95F, 100), 20);
}

TEST(TheOnset, TakesNoPitchThatIsShortOrUncertain) {
    EXPECT_EQ(sung_after(0.95F, 19), -1);
    EXPECT_EQ(sung_after(0.85F, 100), -1);
}

TEST(TheOnset, NeedsLessOfAPitchNearTheOperatorsOwnLevelForTheLongerTheLessClear) {
    EXPECT_EQ(sung_after(0.85F, 100, true), 48);
    EXPECT_EQ(sung_after(0.85F, 47, true), -1) << "short";
    EXPECT_EQ(sung_after(0.70F, 100, true), 61);
    EXPECT_EQ(sung_after(0.70F, 60, true), -1) << "short for that";
    EXPECT_EQ(sung_after(0.65F, 100, true), -1) << "uncertain";
    EXPECT_EQ(sung_after(0.95F, 100, true), 20) << "clear";
}

TEST(TheOnset, TakesOnlyAClearPitchForOneThatMayOpenOverTheReceiver) {
    Onset onset({}, 8ms, hop);
    for (int i = 0; i < 100; ++i) onset.sung(0.85F, true, true);
    EXPECT_FALSE(onset.sings());
    for (int i = 0; i < 20; ++i) onset.sung(0.95F, true, true);
    EXPECT_TRUE(onset.sings());
}

double periodicity_of(double rate, double pitch) {
    Voicing voicing(Hertz{rate});
    std::mt19937 random(3);
    for (int n = 0; n < static_cast<int>(0.2 * rate); ++n) {
        double x = 0;
        if (pitch > 0)
            for (int k = 1; k <= 8; ++k) x += std::sin(2 * std::numbers::pi * pitch * k * n / rate);
        else
            x = static_cast<double>(random()) / 2147483648.0 - 1;
        voicing.push(both(static_cast<float>(0.01 * x)));
    }
    return voicing.periodicity(voicing.now().place);
}

TEST(Voicing, FindsThePitchOfMenAndWomenAtEveryRate) {
    for (const double rate : {8000.0, 11025.0, 16000.0, 44100.0, 48000.0, 96000.0, 192000.0})
        for (const double pitch : {85.0, 120.0, 180.0, 250.0, 350.0})
            EXPECT_GT(periodicity_of(rate, pitch), 0.8) << rate << ' ' << pitch;
}

TEST(Voicing, FindsNoPitchInNoise) {
    for (const double rate : {8000.0, 11025.0, 16000.0, 44100.0, 48000.0, 96000.0, 192000.0})
        EXPECT_LT(periodicity_of(rate, 0), 0.8) << rate;
}

TEST(Voicing, OfSilenceIsNone) {
    Voicing voicing(Hertz{48000});
    EXPECT_EQ(voicing.periodicity(voicing.now().place), 0.0F);
}

/// Hops until the verdict, with the power and the pitch of each hop given.
template <class Power_, class Pitch>
std::pair<Spell::Verdict, int> judged(const Power_& power, const Pitch& pitch) {
    Spell spell({}, hop);
    spell.begin(false);
    for (int i = 0; i < 20000; ++i) {
        const auto verdict = spell(static_cast<float>(power(i * hop)), true,
                                   static_cast<float>(pitch(i * hop)));
        if (verdict != Spell::Verdict::going_on) return {verdict, i};
    }
    return {Spell::Verdict::going_on, 20000};
}

double syllables(double t) { return 1.01 + std::sin(2 * std::numbers::pi * 4 * t); }

TEST(TheSpell, GoesOnWhileSyllablesCome) {
    EXPECT_EQ(judged(syllables, [](double) { return 0.9; }).first, Spell::Verdict::going_on);
}

TEST(TheSpell, IsNotSpeechWithoutPitch) {
    const auto [verdict, hops] = judged(syllables, [](double) { return 0.3; });
    EXPECT_EQ(verdict, Spell::Verdict::not_speech);
    EXPECT_NEAR(hops * hop, 0.4, 0.01);
}

TEST(TheSpell, IsNeverCalledNotSpeechOnceItHasProvenItself) {
    EXPECT_EQ(judged(syllables, [](double t) { return t < 0.2 ? 0.9 : 0.1; }).first,
              Spell::Verdict::going_on);
}

TEST(TheSpell, IsOfOneVoiceOnlyWithAClearPitch) {
    Spell spell({}, hop);
    spell.begin(false);
    for (int i = 0; i < 1000; ++i) spell(1, true, 0.85F);
    EXPECT_TRUE(spell.proven());
    EXPECT_FALSE(spell.clear()) << "a crowd";
    for (int i = 0; i < 200; ++i) spell(1, true, 0.95F);
    EXPECT_TRUE(spell.clear());
}

double guess(OperatorLevel& level, double floor_dbfs, double receiver_dbfs) {
    level.surroundings(to_power(Dbfs{floor_dbfs}), to_power(Dbfs{receiver_dbfs}), 0.1F);
    return to_dbfs(level.peak()).value;
}

TEST(TheOperatorsLevel, IsGuessedFromRoomAndLoudspeakerUntilItHasBeenHeard) {
    OperatorLevel level({}, hop);
    EXPECT_NEAR(guess(level, -45, -100), -18, 0.01) << "in a loud room no more than expected";
    EXPECT_NEAR(guess(level, -65, -100), -31, 0.01);
    EXPECT_NEAR(guess(level, -80, -100), -32, 0.01) << "no less than a soft voice has";
    EXPECT_NEAR(guess(level, -80, -25), -27, 0.01) << "over the loudspeaker";
    EXPECT_NEAR(guess(level, -80, -100), -27, 0.01) << "which is remembered for a while";
    EXPECT_NEAR(to_dbfs(level.known_peak()).value, -18, 0.01);
}

TEST(TheOperatorsLevel, OnceHeardDoesNotFollowTheRoom) {
    OperatorLevel level({}, hop);
    guess(level, -65, -100);
    level.heard(to_power(Dbfs{-27}));
    EXPECT_NEAR(guess(level, -80, -100), -29, 0.01) << "each spell moves it half way";
    EXPECT_EQ(level.known_peak(), level.peak());
}

TEST(TheSpell, IsSteadyWithoutSyllables) {
    const auto [verdict, hops] = judged([](double) { return 1.0; }, [](double) { return 0.99; });
    EXPECT_EQ(verdict, Spell::Verdict::steady);
    EXPECT_NEAR(hops * hop, 2.5, 0.05);
}

}  // namespace
}  // namespace tripline::dsp
