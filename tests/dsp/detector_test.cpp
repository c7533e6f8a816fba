#include "tests/dsp/allocations.h"
#include "tests/dsp/sounds.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

const Sound room = noise(Dbfs{-60}, 0, 1e9);

TEST(TheDetector, KeysOnAVoiceAndLetsGoAfterTheHangTime) {
    Detector detector({}, Hertz{rate});
    const auto heard = hear(detector, 20, room + voice(Dbfs{-20}, 12, 15));
    const double on = first(heard, held);
    EXPECT_GT(on, 12.0);
    EXPECT_LT(on, 12.1);
    const double off = first(heard, [](const Heard& h) { return !h.held; }, on);
    EXPECT_NEAR(off, 15 + 1.5, 0.2);
}

TEST(TheDetector, KeysOnAVoiceOfAnyLevelWithoutAdjustment) {
    for (const double level : {-36.0, -26.0, -16.0, -6.0}) {
        Detector detector({}, Hertz{rate});
        const auto heard = hear(
            detector, 14, noise(Dbfs{level - 40}, 0, 1e9) + voice(Dbfs{level}, 12, 14));
        EXPECT_NEAR(first(heard, held), 12.06, 0.06) << level;
    }
}

/// How often the key closes for so many clicks, a third of a second apart.
int keyed_by_clicks(int clicks, double lasting) {
    Detector detector({}, Hertz{rate});
    const Sound burst = noise(Dbfs{-12}, 12, 1e9);
    const Sound sound = [=](double t) {
        const double noise = burst(t);
        return room(t) + (std::fmod(t - 12, 0.3) < lasting ? static_cast<float>(noise) : 0.0F);
    };
    int keyed = 0;
    bool was = false;
    for (const Heard& h : hear(detector, 12 + 0.3 * clicks, sound)) {
        if (h.held && !was) ++keyed;
        was = h.held;
    }
    return keyed;
}

TEST(TheDetector, DoesNotKeyOnClicks) { EXPECT_EQ(keyed_by_clicks(20, 0.003), 0); }

TEST(TheDetector, TakesOneClickInAHundredForAVoiceAtMost) {
    // By chance a burst of noise repeats as a pitch does.
    EXPECT_LE(keyed_by_clicks(400, 0.005), 4);
}

TEST(TheDetector, DoesNotKeyOnAFanThatIsSwitchedOn) {
    Detector detector({}, Hertz{rate});
    const auto heard = hear(detector, 25, room + noise(Dbfs{-40}, 12, 1e9, 2));
    const double on = first(heard, held);
    if (on >= 0) {
        EXPECT_LT(first(heard, [](const Heard& h) { return h.cause == Cause::not_speech; }), on + 0.5);
    }
}

TEST(TheDetector, LetsGoOfAHumAsSoonWhereverBetweenTheWordsItBegins) {
    double slowest = 0;
    for (int tenth = 0; tenth < 12; ++tenth) {
        const double begin = 14 + 0.05 * tenth;
        Sound hum = tone(Dbfs{-24}, 100, begin, 30);
        for (int harmonic = 2; harmonic <= 12; ++harmonic) hum = hum + tone(Dbfs{-24.0 - 3 * harmonic}, 100 * harmonic, begin, 30);
        Detector detector({}, Hertz{rate});
        const auto heard = hear(detector, 17, room + voice(Dbfs{-20}, 12, 14) + hum);
        const double off = first(heard, [](const Heard& h) { return !h.held; }, begin);
        slowest = std::max(slowest, off - begin);
        EXPECT_EQ(heard[static_cast<std::size_t>(off / hop_seconds)].cause, Cause::steady) << tenth;
    }
    EXPECT_LT(slowest, 0.25);
}

TEST(TheDetector, LetsGoOfASteadyToneAndSaysSo) {
    Detector detector({}, Hertz{rate});
    const auto heard = hear(detector, 30, room + tone(Dbfs{-20}, 440, 12, 30));
    const double on = first(heard, held);
    ASSERT_GT(on, 0);
    const double off = first(heard, [](const Heard& h) { return !h.held; }, on);
    EXPECT_LT(off - on, 0.3);
    EXPECT_EQ(heard[static_cast<std::size_t>(off / hop_seconds)].cause, Cause::steady);
    EXPECT_EQ(first(heard, held, off + 0.01), -1) << "it stays shut while the tone lasts";
}

TEST(TheDetector, LetsGoOfAMainsHumAndSaysSo) {
    for (const double mains : {50.0, 60.0}) {
        Detector detector({}, Hertz{rate});
        Sound hum = room;
        for (int k = 1; k <= 10; ++k) hum = hum + tone(Dbfs{-20 - 20 * std::log10(k)}, mains * k, 12, 30);
        const auto heard = hear(detector, 30, hum);
        const double on = first(heard, held);
        ASSERT_GT(on, 0);
        const double off = first(heard, [](const Heard& h) { return !h.held; }, on);
        EXPECT_LT(off - on, 0.3) << mains << " Hz";
        EXPECT_EQ(heard[static_cast<std::size_t>(off / hop_seconds)].cause, Cause::steady);
        EXPECT_EQ(first(heard, held, off + 0.01), -1) << "it stays shut while the hum lasts";
    }
}

TEST(TheDetector, HearsAMurmurUnderTheVoiceBand) {
    Detector detector({}, Hertz{rate});
    const auto heard = hear(detector, 15, room + tone(Dbfs{-30}, 120, 12, 15));
    const double on = first(heard, held);
    EXPECT_NEAR(on, 12.035, 0.025);
    EXPECT_GE(first(heard, [](const Heard& h) { return h.cause == Cause::murmur; }), 0);
    const double off = first(heard, [](const Heard& h) { return !h.held; }, on);
    EXPECT_LT(off - on, 0.5) << "what murmurs on and never speaks is no voice";
    EXPECT_EQ(first(heard, held, off + 0.01), -1) << "and does not key again";
}

TEST(TheDetector, IsDeafToAMurmurFarUnderTheOperator) {
    Detector detector({}, Hertz{rate});
    const Sound chair = tone(Dbfs{-40}, 120, 12, 12.1);
    EXPECT_EQ(first(hear(detector, 13, room + chair), held), -1);
}

TEST(TheDetector, IsDeafToAMurmuringLoudspeaker) {
    Detector detector({}, Hertz{rate});
    const Sound receiver = tone(Dbfs{-20}, 120, 3, 1e9) + tone(Dbfs{-20}, 240, 3, 1e9);
    const Sound at_microphone = [=](double t) { return 0.2F * receiver(t - 0.005); };
    EXPECT_EQ(first(hear(detector, 20, room + at_microphone, receiver), held), -1);
}

TEST(TheDetector, IsDeafToTheLoudspeaker) {
    Detector detector({}, Hertz{rate});
    const Sound receiver = voice(Dbfs{-10}, 3, 1e9);
    const Sound at_microphone = [=](double t) { return 0.5F * receiver(t - 0.005); };
    const auto heard = hear(detector, 20, room + at_microphone, receiver);
    EXPECT_EQ(first(heard, held), -1);
    EXPECT_GE(first(heard, [](const Heard& h) { return h.cause == Cause::masked; }), 0);
}

TEST(TheDetector, HearsTheOperatorThroughAQuietLoudspeaker) {
    Detector detector({}, Hertz{rate});
    const Sound receiver = voice(Dbfs{-20}, 3, 1e9);
    const Sound at_microphone = [=](double t) { return 0.1F * receiver(t - 0.005); };
    const auto heard = hear(detector, 16, room + at_microphone + voice(Dbfs{-15}, 14, 16), receiver);
    EXPECT_NEAR(first(heard, held), 14.06, 0.06);
}

TEST(TheDetector, DoesNotOpenWhileTheRelaysSettle) {
    Detector detector({}, Hertz{rate});
    hear(detector, 12, room);
    detector.relays_moved();
    const auto heard = hear(detector, 1, voice(Dbfs{-10}, 0, 1));
    EXPECT_EQ(heard.front().cause, Cause::blanked);
    EXPECT_GT(first(heard, held), 0.030);
}

/// Relays that ring at a pitch, three times heard, with a receiver that was heard before.
struct KnownRelays {
    Detector detector{{.blanking = {.relay = 100ms}}, Hertz{rate}};
    Sound ring = tone(Dbfs{-25}, 150, 0, 0.028);
    std::vector<Heard> before;

    KnownRelays() {
        before = hear(detector, 12, room, voice(Dbfs{-30}, 3, 10));
        for (int n = 0; n < 3; ++n) {
            const auto more = move(room + ring);
            before.insert(before.end(), more.begin(), more.end());
        }
    }
    std::vector<Heard> move(const Sound& sound) {
        detector.relays_moved();
        return hear(detector, 1, sound);
    }
};

TEST(TheDetector, HearsTheOperatorThroughRelaysThatItKnows) {
    KnownRelays relays;
    ASSERT_EQ(first(relays.before, held), -1);
    const auto heard = relays.move(room + relays.ring + voice(Dbfs{-8}, -0.03, 1));
    EXPECT_LT(first(heard, held), 0.070);
    EXPECT_GT(first(heard, held), 0);
}

TEST(TheDetector, HearsNobodyThroughRelaysThatItDoesNotKnow) {
    Detector detector({.blanking = {.relay = 100ms}}, Hertz{rate});
    hear(detector, 12, room, voice(Dbfs{-30}, 3, 10));
    detector.relays_moved();
    EXPECT_GT(first(hear(detector, 1, room + voice(Dbfs{-8}, -0.03, 1)), held), 0.100);
}

TEST(TheDetector, DoesNotOpenForRelaysThatRingAtAPitchAsTheyDid) {
    KnownRelays relays;
    EXPECT_EQ(first(relays.move(room + relays.ring), held), -1);
}

TEST(TheDetector, ResetsOnANonFiniteSampleAnywhereAndRecovers) {
    const float bad[] = {std::numeric_limits<float>::quiet_NaN(),
                         std::numeric_limits<float>::infinity(),
                         -std::numeric_limits<float>::infinity(),
                         std::numeric_limits<float>::max()};
    for (const float sample : bad) {
        for (int where = 0; where < 24; ++where) {
            for (const bool on_receiver : {false, true}) {
                Detector detector({}, Hertz{rate});
                const DenormalsOff off;
                bool reset = false;
                for (int n = 0; n < 240; ++n) {
                    const float x = n == 100 + where ? sample : 0.01F;
                    if (detector.push(on_receiver ? 0 : x, on_receiver ? x : 0))
                        reset = reset || detector.heard().cause == Cause::not_finite;
                    ASSERT_TRUE(std::isfinite(detector.heard().measures.microphone));
                }
                EXPECT_TRUE(reset) << sample << " at " << where;
                EXPECT_FALSE(detector.heard().held);
            }
        }
    }
}

TEST(TheDetector, LetsGoOfTheKeyOnANonFiniteSample) {
    Detector detector({}, Hertz{rate});
    ASSERT_TRUE(hear(detector, 13, room + voice(Dbfs{-20}, 12, 13)).back().held);
    while (!detector.push(std::numeric_limits<float>::quiet_NaN(), 0)) {}
    EXPECT_FALSE(detector.heard().held);
    EXPECT_EQ(detector.heard().cause, Cause::not_finite);
}

bool same(const Heard& a, const Heard& b) {
    const Measures& m = a.measures;
    const Measures& n = b.measures;
    return a.voice == b.voice && a.held == b.held && a.cause == b.cause &&
           m.microphone == n.microphone && m.receiver == n.receiver && m.leak == n.leak &&
           m.floor == n.floor && m.threshold == n.threshold && m.remainder == n.remainder;
}

/// Four seconds of a voice with a broken sample now and then, or too loud to be squared.
std::vector<float> broken_speech(double at_rate, std::mt19937& random) {
    const Sound sound = room + voice(Dbfs{-20}, 1, 3);
    std::vector<float> samples;
    for (int n = 0; n < 4 * static_cast<int>(at_rate); ++n) samples.push_back(sound(n / at_rate));
    const float bad[] = {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(), 1e30F};
    for (int i = 0; i < 12; ++i) samples[random() % samples.size()] = bad[i % 3];
    return samples;
}

void hears_the_same_in_blocks(const DetectorSettings& settings, double at_rate, unsigned seed) {
    std::mt19937 random(seed);
    const auto samples = broken_speech(at_rate, random);
    auto receiver = samples;
    std::ranges::shuffle(receiver, random);
    const DenormalsOff off;

    Detector whole(settings, Hertz{at_rate});
    std::vector<Heard> expected;
    for (std::size_t i = 0; i < samples.size(); ++i)
        if (whole.push(samples[i], receiver[i])) expected.push_back(whole.heard());

    Detector parts(settings, Hertz{at_rate});
    const auto hop = static_cast<std::size_t>(parts.hop().count);
    std::size_t hops = 0;
    for (std::size_t at = 0, size = 0; at < samples.size(); at += size) {
        size = std::min<std::size_t>(samples.size() - at, 1 + random() % (random() % 2 ? 5000 : 50));
        parts.push(std::span(samples).subspan(at, size), std::span(receiver).subspan(at, size), [&](std::size_t end) {
            ASSERT_EQ(at + end, (hops + 1) * hop) << "seed " << seed;
            ASSERT_TRUE(same(parts.heard(), expected[hops])) << "hop " << hops << " at " << at_rate << " Hz, seed " << seed;
            ++hops;
        });
    }
    EXPECT_EQ(hops, expected.size());
}

TEST(TheDetector, HearsTheSameWhateverTheBlocks) {
    const unsigned seed = std::random_device{}();
    RecordProperty("seed", std::to_string(seed));
    DetectorSettings echo;
    echo.leak.method = AntiTrip::echo;
    for (const double at_rate : {8000.0, 11025.0, 15999.0, 16000.0, 44100.0, 48000.0, 192000.0}) {
        hears_the_same_in_blocks({}, at_rate, seed);
        hears_the_same_in_blocks(echo, at_rate, seed);
    }
}

TEST(TheDetector, IsAsNewAfterAReset) {
    Detector used({}, Hertz{rate});
    hear(used, 4, room + voice(Dbfs{-20}, 1, 4), voice(Dbfs{-20}, 0, 2));
    used.reset();
    Detector fresh({}, Hertz{rate});
    const Sound sound = voice(Dbfs{-20}, 0.2, 2);
    const auto a = hear(used, 2, sound);
    const auto b = hear(fresh, 2, sound);
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t i = 0; i < a.size(); ++i) ASSERT_TRUE(same(a[i], b[i])) << i;
}

TEST(TheDetector, TakesNothingFromTheHeapAfterConstruction) {
    Detector detector({}, Hertz{rate});
    std::vector<float> samples;
    const Sound sound = room + voice(Dbfs{-20}, 1, 2);
    for (int n = 0; n < 3 * static_cast<int>(rate); ++n) samples.push_back(sound(n / rate));
    const long before = allocations();
    for (const float x : samples) detector.push(x, 0.1F * x);
    detector.push(samples, samples, [](std::size_t) {});
    detector.relays_moved();
    detector.receiver_muted(true);
    detector.receiver_muted(false);
    detector.reset();
    EXPECT_EQ(allocations(), before);
}

TEST(TheDetector, WorksAtEveryRateOfTheTrade) {
    for (const double r : {8000.0, 11025.0, 16000.0, 22050.0, 44100.0, 96000.0, 192000.0}) {
        Detector detector({}, Hertz{r});
        EXPECT_NEAR(static_cast<double>(detector.hop().count) / r, hop_seconds, 0.06e-3);
        const DenormalsOff off;
        const Sound sound = room + voice(Dbfs{-20}, 12, 13);
        double on = -1;
        for (int n = 0; n < static_cast<int>(13 * r) && on < 0; ++n)
            if (detector.push(sound(n / r), 0) && detector.heard().held) on = n / r;
        EXPECT_NEAR(on, 12.06, 0.06) << r;
    }
}

TEST(TheDetector, RefusesRatesOutsideEightTo192Kilohertz) {
    for (const double r : {0.0, 1.0, 7999.0, 192001.0, 1e6, std::nan("")})
        EXPECT_THROW(Detector({}, Hertz{r}), std::invalid_argument) << r;
}

TEST(TheDetector, StaysFiniteAtExtremeSettings) {
    DetectorSettings extreme[4];
    extreme[0].hold = 0ms;
    extreme[0].gate.qualify = 0ms;
    extreme[0].envelope = {0ms, 0ms};
    extreme[1].hold = std::chrono::hours{1};
    extreme[1].gate.qualify = 1000ms;
    extreme[1].envelope = {1000ms, 10000ms};
    extreme[2].leak = {.coupling = Decibels{60}, .delay = 500ms, .decay = 0ms};
    extreme[2].band = {Hertz{20}, Hertz{23900}};
    extreme[3].gate = {.threshold = Threshold::fixed, .open = Dbfs{-120}, .hysteresis = Decibels{0}};
    extreme[3].evidence.clutter.enabled = false;
    for (const auto& settings : extreme) {
        Detector detector(settings, Hertz{rate});
        for (const Heard& h : hear(detector, 3, room + voice(Dbfs{0}, 1, 2), voice(Dbfs{0}, 0, 3))) {
            ASSERT_TRUE(std::isfinite(h.measures.threshold) && std::isfinite(h.measures.leak) &&
                        std::isfinite(margin_db(h.measures)));
        }
    }
}

}  // namespace
}  // namespace tripline::dsp
