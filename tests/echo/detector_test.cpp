// The detector with the echo method: a loud loudspeaker does not key, the operator does.
#include "dsp/denormals.h"
#include "dsp/detector.h"
#include "tests/echo/speech.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

namespace tripline::echo_test {
namespace {

using dsp::Detector;

dsp::DetectorSettings with_echo() {
    dsp::DetectorSettings settings;
    settings.leak.method = dsp::AntiTrip::echo;
    return settings;
}

/// The far station speaks for 10 s, as loud at the microphone as the operator, who
/// answers at 10 s over the noise of the open band.
struct Over {
    Samples receiver = speech(0, 14, 0.05);
    Samples microphone;

    Over() {
        const Samples hiss = white(14, 0.015, 31);
        for (std::size_t i = 0; i < receiver.size(); ++i)
            receiver[i] = (i < at(9.5) ? receiver[i] : 0) + hiss[i];
        microphone = through(receiver, path(0.03, 0.3, 0, 32));
        const Samples voice = speech(1, 4, 0.05);
        const Samples room = white(14, 0.001, 33);
        for (std::size_t i = 0; i < microphone.size(); ++i)
            microphone[i] += room[i] + (i >= at(10) ? voice[i - at(10)] : 0);
    }
};

TEST(TheDetectorWithTheEchoMethod, HearsTheOperatorAndNotTheLoudspeaker) {
    const dsp::DenormalsOff off;
    const Over over;
    Detector detector(with_echo(), Hertz{rate});
    int keyed_by_receiver = 0;
    double answered = 0;
    for (std::size_t i = 0; i < over.microphone.size(); ++i) {
        if (!detector.push(over.microphone[i], over.receiver[i])) continue;
        if (detector.heard().held && i < at(10)) ++keyed_by_receiver;
        if (detector.heard().held && i >= at(10) && answered == 0) answered = static_cast<double>(i) / rate;
    }
    EXPECT_EQ(keyed_by_receiver, 0);
    EXPECT_GT(answered, 10);
    EXPECT_LT(answered, 11.5);
    EXPECT_TRUE(detector.trust().sure);
    EXPECT_NEAR(detector.trust().delay_ms, 30, 2);
}

/// The station's cause of keying by a voiced sound of 150 ms, most of it under the voice band, that begins 10 s after a receiver that
/// roars on; its time after that, or none.
struct Murmured {
    double after = 1e9;
    dsp::Cause cause = dsp::Cause::quiet;
};
Murmured murmured(double amplitude) {
    const Samples room = white(11, 0.001, 63);
    Samples receiver = white(11, 0.04, 61);
    for (std::size_t i = receiver.size() - 1; i >= 2; --i) receiver[i] -= 2 * receiver[i - 1] - receiver[i - 2];  // a radio channel has no bass
    Samples microphone = through(loudspeaker(receiver, 0.5, 0.1), path(0.03, 0.3, 0, 62));
    for (std::size_t i = at(10); i < at(10.15); ++i) {
        const double turn = 2 * std::numbers::pi * 120 * static_cast<double>(i) / rate;
        microphone[i] += static_cast<float>(amplitude * (std::sin(turn) + std::sin(2 * turn) + 0.5 * std::sin(3 * turn) + 0.3 * std::sin(5 * turn)));
    }
    Detector detector(with_echo(), Hertz{rate});
    for (std::size_t i = 0; i < microphone.size(); ++i) {
        if (detector.push(microphone[i] + room[i], receiver[i]) && detector.heard().held)
            return {static_cast<double>(i) / rate - 10, detector.heard().cause};
    }
    return {};
}

TEST(TheDetectorWithTheEchoMethod, HearsAMurmurAsLoudAsTheOperatorWhileTheLoudspeakerTalks) {
    const dsp::DenormalsOff off;
    const Murmured loud = murmured(0.14);
    EXPECT_GT(loud.after, 0);
    EXPECT_LT(loud.after, 0.05);
    EXPECT_EQ(loud.cause, dsp::Cause::murmur);
    EXPECT_GT(murmured(0.04).after, 0.15) << "the loudspeaker may have made it";
}

TEST(TheDetectorWithTheEchoMethod, ReleasesOnNotANumberAndLearnsAnew) {
    const dsp::DenormalsOff off;
    const Over over;
    Detector detector(with_echo(), Hertz{rate});
    for (std::size_t i = 0; i < at(3); ++i) detector.push(over.microphone[i], over.receiver[i]);
    for (std::size_t i = 0; i < 20; ++i) detector.push(std::numeric_limits<float>::quiet_NaN(), 0);
    EXPECT_EQ(detector.heard().cause, dsp::Cause::not_finite);
    EXPECT_FALSE(detector.heard().held);
    EXPECT_FALSE(detector.trust().sure);
    for (std::size_t i = at(3); i < at(8); ++i) {
        detector.push(over.microphone[i], over.receiver[i]);
        EXPECT_FALSE(detector.heard().held);
    }
    EXPECT_TRUE(detector.trust().sure);
}

/// The far station speaks through a small loudspeaker that is driven hard; nobody answers.
TEST(TheDetectorWithTheEchoMethod, TakesWhatIsLeftOfTheLoudspeakerForNoSoundOfTheRoom) {
    const dsp::DenormalsOff off;
    Samples receiver = speech(2, 52, 0.1);
    const Samples hiss = white(52, 0.003, 41);
    for (std::size_t i = 0; i < receiver.size(); ++i) receiver[i] += hiss[i];
    Samples microphone = through(loudspeaker(receiver, 1, 0.2), path(0.03, 0.3, 0, 42));
    const Samples room = white(52, 0.001, 43);
    Detector detector(with_echo(), Hertz{rate});
    Power highest = 0;  // of what the threshold is not under, once the first seconds are forgotten
    int sure = 0, hops = 0;
    for (std::size_t i = 0; i < microphone.size(); ++i) {
        if (!detector.push(microphone[i] + room[i], receiver[i]) || i < at(15)) continue;
        EXPECT_FALSE(detector.heard().held);
        if (i < at(45)) continue;
        highest = std::max(highest, detector.weighed().others);
        sure += detector.trust().sure;
        ++hops;
    }
    EXPECT_GT(4 * sure, hops) << "of such a loudspeaker the model is sure now and then only";
    EXPECT_LT(to_dbfs(highest).value, -35);
}

/// A second of ten harmonics of one amplitude.
Samples vowel(double amplitude) {
    Samples voice(at(1));
    for (std::size_t i = 0; i < voice.size(); ++i) {
        for (int k = 1; k <= 10; ++k)
            voice[i] += static_cast<float>(amplitude * std::sin(2 * std::numbers::pi * 130 * k * static_cast<double>(i) / rate + k * k));
    }
    return voice;
}

/// When the station heard the sound that began as the receiver came back on, in seconds after it. The operator
/// has spoken before.
double heard_after_unmute(const Samples& sound, const dsp::DetectorSettings& settings = with_echo(), double return_loss = 6) {
    const Samples receiver = white(10 + static_cast<double>(sound.size()) / rate, 0.1, 51);
    const Samples microphone = through(receiver, path(0.01, 0.2, return_loss, 52));
    const Samples room = white(10 + static_cast<double>(sound.size()) / rate, 0.001, 53);
    const Samples word = vowel(0.05);
    Detector detector(settings, Hertz{rate});
    for (std::size_t i = 0; i < microphone.size(); ++i) {
        if (i == at(9.5)) detector.receiver_muted(true);
        if (i == at(10)) detector.receiver_muted(false);
        const bool mute = i >= at(9.5) && i < at(10);
        const float near = room[i] + (i >= at(10) ? sound[i - at(10)] : i >= at(2) && i < at(3) ? word[i - at(2)] : 0);
        if (detector.push(near + (mute ? 0 : microphone[i]), receiver[i]) && detector.heard().held && i >= at(9))
            return static_cast<double>(i) / rate - 10;
    }
    return 1e9;
}

TEST(TheDetectorWithTheEnvelopeMethod, HearsAVoiceOverTheReceiverThatComesBackOnIfItIsTheLouder) {
    const dsp::DenormalsOff off;
    const double loud = heard_after_unmute(vowel(0.05), {}, 20);
    EXPECT_GT(loud, 0);
    EXPECT_LT(loud, 0.06);
    EXPECT_GT(heard_after_unmute(vowel(0.01), {}, 20), 0.15) << "the receiver may burst as loud";
    EXPECT_GT(heard_after_unmute(white(1, 0.2, 54), {}, 20), 0.15) << "a burst has no pitch";
}

TEST(TheDetectorWithTheEchoMethod, HearsAVoiceWhileTheReceiverComesBackOn) {
    const dsp::DenormalsOff off;
    const double voice_heard = heard_after_unmute(vowel(0.05));
    EXPECT_GT(voice_heard, 0);
    EXPECT_LT(voice_heard, 0.06);
    EXPECT_GT(heard_after_unmute(white(1, 0.2, 54)), 0.15) << "a burst waits until the receiver has settled";
}

/// What a set sounds like since it was unmuted, or is mute, by the loudspeaker alone.
using SetsOwn = std::function<double(double seconds_since_unmute)>;

/// How often a station keys itself in the time after the operator has spoken a word, while it mutes its receiver.
/// `turned`: how much louder the loudspeaker is from the middle of that word on.
int keyed_by_itself(const dsp::DetectorSettings& settings, const Samples& receiver, const SetsOwn& own, float turned = 1) {
    const auto length = receiver.size();
    const Samples leak = through(receiver, path(0.01, 0.2, 20, 82));
    const Samples room = white(static_cast<double>(length) / rate, 0.001, 83);
    const Samples word = speech(1, 3, 0.1);
    Detector detector(settings, Hertz{rate});
    bool mute = false;
    std::size_t unmuted = length;
    int keyed = 0;
    for (std::size_t i = 0; i < length; ++i) {
        const double since = i < unmuted ? 0 : static_cast<double>(i - unmuted) / rate;
        const float near = i >= at(8) && i < at(11) ? word[i - at(8)] : 0;
        const float loudness = i >= at(9.5) ? turned : 1;
        const float heard = mute ? 0 : loudness * (leak[i] + static_cast<float>(own(since)));
        if (!detector.push(room[i] + near + heard, mute ? 0 : receiver[i]) || detector.heard().held == mute) continue;
        mute = detector.heard().held;
        detector.receiver_muted(mute);
        if (!mute) unmuted = i;
        else if (i >= at(11)) ++keyed;
    }
    EXPECT_LT(unmuted, length) << "the operator was not heard";
    return keyed;
}

/// Beeps whenever it comes back on.
SetsOwn beep(double from, double to) {
    return [=](double since) { return since > from && since < to ? 0.2 * std::sin(2 * std::numbers::pi * 800 * since) : 0; };
}

TEST(TheDetector, IsNotKeyedAgainAndAgainByABeepOfTheReceiverThatComesBackOn) {
    const dsp::DenormalsOff off;
    const Samples receiver = white(60, 0.02, 81);
    for (const auto& settings : {dsp::DetectorSettings{}, with_echo()}) {
        EXPECT_LE(keyed_by_itself(settings, receiver, beep(0.06, 0.14)), 1);
        EXPECT_LE(keyed_by_itself(settings, receiver, beep(0, 0.7)), 4);
        EXPECT_LE(keyed_by_itself(settings, receiver, beep(0.8, 1.1)), 5);
    }
}

TEST(TheDetector, IsNotKeyedAgainAndAgainByALoudspeakerTurnedUpWhileTheStationWasKeyed) {
    const dsp::DenormalsOff off;
    Samples receiver = speech(0, 60, 0.05);
    const Samples noise = white(60, 0.01, 84);
    std::ranges::transform(receiver, noise, receiver.begin(), std::plus());
    for (const auto& settings : {dsp::DetectorSettings{}, with_echo()}) {
        for (const float turned : {4.0F, 8.0F})
            EXPECT_LE(keyed_by_itself(settings, receiver, beep(0, 0), turned), 6) << turned << " times as loud";
    }
}

TEST(TheDetector, KeysForEachOfTenShortSyllablesSaidAsSoonAsTheReceiverIsBack) {
    const dsp::DenormalsOff off;
    Samples word = vowel(0.05);  // level for no longer than a syllable
    for (std::size_t i = 0; i < word.size(); ++i)
        word[i] *= static_cast<float>(0.75 + 0.25 * std::sin(2 * std::numbers::pi * 7 * static_cast<double>(i) / rate));
    for (const double lasting : {0.2, 0.3}) {
        for (const double pause : {0.1, 0.4, 0.9}) {
            Detector detector({}, Hertz{rate});
            const Samples receiver = white(40, 0.005, 85);
            bool mute = false;
            std::size_t word_at = at(4);
            int keyed = 0;
            for (std::size_t i = 0; i < receiver.size() && keyed < 10; ++i) {
                const std::size_t into = i - word_at;
                const bool speaks = i >= word_at && into < at(lasting);
                const float sound = (speaks ? word[into] : 0) + (mute ? 0 : 0.3F * receiver[i]);
                if (!detector.push(sound, mute ? 0 : receiver[i]) || detector.heard().held == mute) continue;
                mute = detector.heard().held;
                detector.receiver_muted(mute);
                if (!mute) word_at = i + at(pause);
                else {
                    EXPECT_LT(into, at(0.16)) << "word " << keyed << " of " << lasting << " s, " << pause << " s after the unmute";
                    ++keyed;
                }
            }
            EXPECT_EQ(keyed, 10) << lasting << " s, " << pause << " s after the unmute";
        }
    }
}

/// How often the key closes for so many clicks over a soft receiver, a third of a second apart, once the model is sure.
int keyed_by_clicks(int clicks, double lasting) {
    const double seconds = 8 + 0.3 * clicks;
    const Samples receiver = white(seconds, 0.02, 71);
    const Samples microphone = through(receiver, path(0.01, 0.1, 12, 72));
    const Samples room = white(seconds, 0.001, 73);
    const Samples burst = white(seconds, 0.18, 74);
    Detector detector(with_echo(), Hertz{rate});
    int keyed = 0;
    bool was = false;
    for (std::size_t i = 0; i < microphone.size(); ++i) {
        const bool clicks_now = i >= at(8) && (i - at(8)) % at(0.3) < at(lasting);
        if (!detector.push(microphone[i] + room[i] + (clicks_now ? burst[i] : 0), receiver[i])) continue;
        if (i == at(8)) { EXPECT_TRUE(detector.trust().sure); }
        keyed += detector.heard().held && !was ? 1 : 0;
        was = detector.heard().held;
    }
    EXPECT_TRUE(detector.trust().sure) << "no click takes that away";
    return keyed;
}

TEST(TheDetectorWithTheEchoMethod, TakesOneClickInAHundredForAVoiceAtMost) {
    const dsp::DenormalsOff off;
    EXPECT_EQ(keyed_by_clicks(20, 0.003), 0);
    EXPECT_LE(keyed_by_clicks(400, 0.005), 4);
}

TEST(TheDetectorWithTheEchoMethod, StaysSureOfItsModelAfterAWordSaidIntoTheFarStation) {
    const dsp::DenormalsOff off;
    const Samples receiver = speech(0, 12, 0.05);
    const Samples way = path(0.03, 0.3, 0, 62);
    const Samples room = white(12, 0.001, 64);
    const Samples voice = speech(1, 2, 0.1);
    const auto begin = std::ranges::find_if(voice, [](float x) { return std::abs(x) > 0.05F; });
    const Samples word(begin, begin + static_cast<long>(at(0.2)));
    Detector detector(with_echo(), Hertz{rate});
    Samples played(receiver.size());   // by a loudspeaker that the station mutes while it is keyed
    int spells = 0;
    for (std::size_t i = 0; i < receiver.size() && (i < at(10) || spells == 0 || detector.heard().held); ++i) {
        const bool held = detector.heard().held;
        if (!held) played[i] = receiver[i];
        float sound = room[i] + (i >= at(10) && i - at(10) < word.size() ? word[i - at(10)] : 0);
        for (std::size_t j = 0; j < std::min(way.size(), i + 1); ++j) sound += way[j] * played[i - j];
        if (!detector.push(sound, receiver[i]) || detector.heard().held == held) continue;
        detector.receiver_muted(!held);
        spells += held ? 0 : 1;
    }
    EXPECT_EQ(spells, 1);
    EXPECT_FALSE(detector.heard().held);
    EXPECT_TRUE(detector.trust().sure);
}

TEST(TheDetectorWithTheEchoMethod, ClaimsNoTrustWithTheOtherMethod) {
    const Detector detector({}, Hertz{rate});
    EXPECT_FALSE(detector.trust().sure);
    EXPECT_EQ(detector.trust().confidence, 0);
}

}  // namespace
}  // namespace tripline::echo_test
