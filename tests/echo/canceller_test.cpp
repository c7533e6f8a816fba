// The canceller as the detector uses it: residue, leak, delay, clocks, bad input, no heap.
#include "dsp/denormals.h"
#include "dsp/echo/canceller.h"
#include "tests/dsp/allocations.h"
#include "tests/echo/sounds.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <memory>

namespace tripline::echo_test {
namespace {

using dsp::echo::Canceller;
using dsp::echo::Residue;

constexpr std::size_t hop = 4;

/// A canceller behind the receiver's envelope, as in the detector.
struct Ear {
    std::unique_ptr<Canceller> canceller =
        std::make_unique<Canceller>(dsp::DetectorSettings{}, Hertz{rate}, hop / rate);
    dsp::Envelope envelope{dsp::EnvelopeSettings{}, Hertz{rate}};
    std::size_t frame = 0;
    Residue residue;
    Power expected = 0;

    void push(float microphone, float receiver, bool speaking = false) {
        canceller->push(dsp::Pair{microphone, receiver});
        envelope(dsp::Pair{microphone, receiver});
        if (++frame % hop != 0) return;
        expected = 4 * envelope.peak()[1];
        residue = canceller->end_hop({.receiver = envelope.peak()[1], .expected = expected, .coupling = 4, .speaking = speaking});
    }
    void play(const Samples& microphone, const Samples& receiver, double from, double to) {
        const dsp::DenormalsOff off;
        for (std::size_t i = at(from); i < at(to); ++i) push(microphone[i], receiver[i]);
    }
};

struct Room {
    Samples receiver;
    Samples microphone;
};

Room room(double seconds, double delay, double return_loss, unsigned seed) {
    Room r;
    r.receiver = in_voice_band(white(seconds, 0.05, seed));
    r.microphone = through(r.receiver, path(delay, 0.3, return_loss, seed + 1));
    const Samples noise = in_voice_band(white(seconds, 0.001, seed + 2));
    for (std::size_t i = 0; i < noise.size(); ++i) r.microphone[i] += noise[i];
    return r;
}

TEST(TheCanceller, MasksASoundingReceiverUntilItKnowsTheRoom) {
    Ear ear;
    const Room r = room(0.2, 0.02, -6, 20);
    ear.play(r.microphone, r.receiver, 0.05, 0.2);
    EXPECT_GT(ear.residue.leak, ear.residue.power);
    EXPECT_FALSE(ear.canceller->trust().sure);
}

TEST(TheCanceller, CoversWhatIsLeftOfALoudReceiverAndNoMore) {
    Ear ear;
    const Room r = room(6, 0.02, -6, 21);
    ear.play(r.microphone, r.receiver, 0, 4);
    int uncovered = 0;
    for (double t = 4; t < 6; t += 0.001) {
        ear.play(r.microphone, r.receiver, t, t + 0.001);
        uncovered += ear.residue.power > ear.residue.leak ? 1 : 0;
    }
    EXPECT_LT(uncovered, 20) << "of 2000";
    const double microphone = 2 * energy(r.microphone, 4, 6) / (2 * rate);
    EXPECT_LT(decibels(ear.residue.leak / microphone), -15) << "leak left against the microphone";
    EXPECT_TRUE(ear.canceller->trust().sure);
    EXPECT_GT(ear.canceller->trust().reduction_db, 15);
}

TEST(TheCanceller, LetsTheExpectedLeakGuardAgainSixSecondsAfterATrip) {
    Ear ear;
    Room r = room(8.0, 0.02, -6, 22);
    const Samples hubbub = in_voice_band(white(8.0, 0.2, 25));   // hides the path, so the model is never sure
    for (std::size_t i = 0; i < hubbub.size(); ++i) r.microphone[i] += hubbub[i];
    ear.play(r.microphone, r.receiver, 0.05, 1.0);
    ear.canceller->distrust();
    ear.play(r.microphone, r.receiver, 1.0, 5.0);
    ASSERT_FALSE(ear.canceller->trust().sure);
    EXPECT_GT(ear.residue.leak, ear.expected);
    EXPECT_LE(ear.residue.leak, 16 * ear.expected);
    ear.play(r.microphone, r.receiver, 5.0, 8.0);
    EXPECT_EQ(ear.residue.leak, ear.expected);
}

TEST(TheCanceller, DoesNotBlameTheLoudspeakerForASoundItCannotMake) {
    Ear ear;
    const Room r = room(1.0, 0.02, -6, 23);
    ear.play(r.microphone, r.receiver, 0.05, 1.0);
    EXPECT_TRUE(ear.canceller->may_have_made(10 * ear.expected));
    EXPECT_FALSE(ear.canceller->may_have_made(20 * ear.expected));
}

/// Of the 250 ms from 50 ms after a mute those in which more is left than the loudspeaker can have left behind.
int outlasting(const Room& r, float turned_up, double noise) {
    Ear ear;
    Samples played = r.receiver;
    std::fill(played.begin() + static_cast<long>(at(4)), played.end(), 0.0F);
    const Samples dying = through(played, path(0.02, 0.4, -6, 32));
    const Samples near = in_voice_band(white(4.3, noise, 33));
    int milliseconds = 0;
    for (int now = 0; now < 4300; ++now) {
        for (std::size_t i = at(0.001) * static_cast<std::size_t>(now), n = 0; n < at(0.001); ++i, ++n)
            ear.push((now < 3900 ? 1 : turned_up) * dying[i] + (now < 4000 ? 0.02F : 1) * near[i], played[i]);
        if (now >= 4050) milliseconds += ear.canceller->outlasts_receiver() ? 1 : 0;
    }
    return milliseconds;
}

TEST(TheCanceller, TellsAVoiceFromALoudspeakerThatDiesAwayInTheRoom) {
    const Room r = room(4.3, 0.02, -6, 31);
    EXPECT_EQ(outlasting(r, 1, 0.001), 0);
    EXPECT_EQ(outlasting(r, 3.5, 0.001), 0) << "turned up 11 dB";
    EXPECT_GT(outlasting(r, 1, 0.1), 150) << "a voice as loud as the loudspeaker was";
}

TEST(TheCanceller, FindsTheDelayBetweenItsInputsWithin2Milliseconds) {
    for (const double delay : {0.001, 0.012, 0.085, 0.2}) {
        Ear ear;
        const Room r = room(5, delay, 6, 22);
        ear.play(r.microphone, r.receiver, 0, 5);
        EXPECT_TRUE(ear.canceller->trust().sure);
        EXPECT_NEAR(ear.canceller->trust().delay_ms, 1000 * delay, 2);
    }
}

/// The same sound sampled by a clock that is `ppm` faster, by a windowed sine.
Samples resampled(const Samples& x, double ppm) {
    Samples y(x.size());
    for (std::size_t i = 32; i + 32 < x.size(); ++i) {
        const double where = static_cast<double>(i) * (1 - ppm * 1e-6);
        const auto middle = static_cast<long>(std::lround(where));
        double sum = 0;
        const long end = std::min(static_cast<long>(x.size()), middle + 25);
        for (long k = std::max(0L, middle - 24); k < end; ++k) {
            const double t = std::numbers::pi * (where - static_cast<double>(k));
            const double window = 0.5 + 0.5 * std::cos(t / 25);
            sum += static_cast<double>(x[static_cast<std::size_t>(k)]) *
                   (std::abs(t) < 1e-9 ? 1 : std::sin(t) / t * window);
        }
        y[i] = static_cast<float>(sum);
    }
    return y;
}

TEST(TheCanceller, NoticesTwoClocksAndLeavesTheGuardToTheEnvelope) {
    for (const double ppm : {-200.0, 50.0, 100.0}) {
        Ear ear;
        const Room r = room(20, 0.02, 6, 23);
        ear.play(resampled(r.microphone, ppm), r.receiver, 0, 20);
        EXPECT_TRUE(ear.canceller->trust().clocks_differ) << ppm << " ppm";
        EXPECT_FALSE(ear.canceller->trust().sure) << ppm << " ppm";
        EXPECT_NEAR(std::abs(ear.canceller->trust().drift_ppm), std::abs(ppm), 15) << ppm << " ppm";
        EXPECT_GT(ear.residue.leak, 0.1F * ear.residue.power);
    }
}

TEST(TheCanceller, TakesOneClockForOne) {
    Ear ear;
    const Room r = room(20, 0.02, 6, 24);
    ear.play(r.microphone, r.receiver, 0, 20);
    EXPECT_FALSE(ear.canceller->trust().clocks_differ);
}

TEST(TheCanceller, LeavesTheVoiceAloneWhenTheReceiverIsSilent) {
    Ear ear;
    const Samples voice = in_voice_band(white(3, 0.05, 25));
    ear.play(voice, Samples(voice.size()), 0, 3);
    EXPECT_EQ(ear.residue.leak, 0);
    EXPECT_NEAR(decibels(ear.residue.average / 0.005), 0, 3);
}

TEST(TheCanceller, SurvivesSilenceConstantsAndHugeValues) {
    for (const float value : {0.0F, 1.0F, -1e6F, 1e-38F}) {
        Ear ear;
        const Samples x(at(2), value);
        ear.play(x, x, 0, 2);
        EXPECT_TRUE(std::isfinite(ear.residue.power)) << value;
        EXPECT_TRUE(std::isfinite(ear.residue.leak)) << value;
    }
}

TEST(TheCanceller, IsAsNewAfterANotANumberAndAReset) {
    for (const float bad : {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity()}) {
        Ear spoilt;
        Ear fresh;
        const Room r = room(3, 0.02, 6, 26);
        spoilt.play(r.microphone, r.receiver, 0, 1);
        spoilt.push(bad, 0.1F);
        spoilt.push(0.1F, bad);
        spoilt.play(r.microphone, r.receiver, 1, 1.1);
        spoilt.canceller->reset();
        spoilt.envelope.reset();
        spoilt.frame = 0;
        spoilt.play(r.microphone, r.receiver, 1, 3);
        fresh.play(r.microphone, r.receiver, 1, 3);
        EXPECT_EQ(spoilt.residue.power, fresh.residue.power);
        EXPECT_EQ(spoilt.residue.leak, fresh.residue.leak);
        EXPECT_EQ(spoilt.canceller->trust().delay_ms, fresh.canceller->trust().delay_ms);
    }
}

TEST(TheCanceller, TakesNoHeapAfterItsConstruction) {
    Ear ear;
    const Room r = room(2, 0.02, 6, 27);
    const long before = dsp::allocations();
    ear.play(r.microphone, r.receiver, 0, 2);
    ear.canceller->trust();
    ear.canceller->reset();
    EXPECT_EQ(dsp::allocations(), before);
}

}  // namespace
}  // namespace tripline::echo_test
