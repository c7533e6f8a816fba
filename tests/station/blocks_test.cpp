// The size of the caller's blocks changes nothing, to the bit.
#include "daemon/station/engine.h"

#include "tests/station/seed.h"
#include "tests/station/sounds.h"
#include "tests/station/take.h"

#include <gtest/gtest.h>

#include <bit>
#include <functional>

namespace tripline::station::test {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct Session {
    Samples microphone;
    Samples receiver;
};

struct Result {
    Take take;
    Samples transmitter;
    Samples loudspeaker;
};

/// Overs, a far station that leaks, a NaN, and a mode change where blocks of all sizes meet.
Session session(Hertz rate, std::uint32_t seed) {
    Samples microphone = room(500ms, rate, seed) + syllables(1s, rate, seed + 1) +
                         room(2s, rate, seed + 2) + syllables(300ms, rate, seed + 3) +
                         room(2500ms, rate, seed + 4);
    Samples receiver(microphone.size());
    const Samples far = syllables(1s, rate, seed + 5);
    std::copy(far.begin(), far.end(),
              receiver.begin() + static_cast<std::ptrdiff_t>(2 * microphone.size() / 3));
    for (std::size_t i = 0; i < microphone.size(); ++i) microphone[i] += 0.1F * receiver[i];
    microphone[microphone.size() - 5000] = std::numeric_limits<float>::quiet_NaN();
    return {microphone, receiver};
}

Result run(const Session& session, Hertz rate, const std::function<std::size_t()>& block,
           dsp::AntiTrip method = dsp::AntiTrip::envelope) {
    Settings settings;
    settings.detector.leak.method = method;
    settings.transmit_audio = {.look_ahead = 60ms, .gain = Decibels{6}, .limit = Dbfs{-3}};
    settings.limits = {.longest_over = 1s, .quiet_to_clear = 500ms};
    Engine engine(settings, rate);
    const std::size_t frames = session.microphone.size();
    Result result{{}, Samples(frames), Samples(frames)};
    const std::span microphone{session.microphone}, receiver{session.receiver};
    const std::span transmitter{result.transmitter}, loudspeaker{result.loudspeaker};
    for (std::size_t at = 0; at < frames;) {
        const std::size_t size = std::min(block(), frames - at);
        engine.process({microphone.subspan(at, size), receiver.subspan(at, size),
                        transmitter.subspan(at, size), loudspeaker.subspan(at, size)},
                       result.take);
        at += size;
    }
    return result;
}

void expect_same_bits(float a, float b) {
    ASSERT_EQ(std::bit_cast<std::uint32_t>(a), std::bit_cast<std::uint32_t>(b));
}

void expect_same(const Event& a, const Event& b) {
    ASSERT_EQ(a.at, b.at);
    ASSERT_TRUE(a.kind == b.kind && a.from == b.from && a.to == b.to && a.reason == b.reason);
    ASSERT_TRUE(a.mode == b.mode && a.lines == b.lines);
    ASSERT_TRUE(a.heard.voice == b.heard.voice && a.heard.held == b.heard.held &&
                a.heard.cause == b.heard.cause);
    const dsp::Measures &m = a.heard.measures, &n = b.heard.measures;
    expect_same_bits(m.microphone, n.microphone);
    expect_same_bits(m.receiver, n.receiver);
    expect_same_bits(m.leak, n.leak);
    expect_same_bits(m.floor, n.floor);
    expect_same_bits(m.threshold, n.threshold);
    expect_same_bits(m.remainder, n.remainder);
}

void expect_same(const Result& a, const Result& b) {
    ASSERT_EQ(a.take.events.size(), b.take.events.size());
    for (std::size_t i = 0; i < a.take.events.size(); ++i)
        expect_same(a.take.events[i], b.take.events[i]);
    for (std::size_t i = 0; i < a.transmitter.size(); ++i) {
        expect_same_bits(a.transmitter[i], b.transmitter[i]);
        expect_same_bits(a.loudspeaker[i], b.loudspeaker[i]);
    }
}

TEST(TheBlocks, OfAnySizeGiveTheSameEventsAndSoundToTheBit) {
    const std::uint32_t seed = drawn_seed();
    for (const double hertz : {8000.0, 44100.0, 48000.0}) {
        const Hertz rate{hertz};
        const Session s = session(rate, seed);
        const Result whole = run(s, rate, [] { return std::size_t{1} << 30; });
        EXPECT_GE(whole.take.events.size(), 10U);
        for (const std::size_t size : {1, 17, 64, 480, 4096}) {
            SCOPED_TRACE(size);
            expect_same(whole, run(s, rate, [size] { return size; }));
        }
        std::mt19937 random(seed);
        std::uniform_int_distribution<std::size_t> sizes(1, 2000);
        expect_same(whole, run(s, rate, [&] { return sizes(random); }));
    }
}

TEST(TheBlocks, OfAnySizeGiveTheSameEventsWithTheEchoMethodToo) {
    const std::uint32_t seed = drawn_seed();
    const Hertz rate{16000};
    const Session s = session(rate, seed);
    const auto echo = dsp::AntiTrip::echo;
    const Result whole = run(s, rate, [] { return std::size_t{1} << 30; }, echo);
    EXPECT_GE(whole.take.events.size(), 10U);
    for (const std::size_t size : {1, 17, 64, 480, 4096}) {
        SCOPED_TRACE(size);
        expect_same(whole, run(s, rate, [size] { return size; }, echo));
    }
}

TEST(TheBlocks, MayBeProcessedInPlace) {
    const Hertz rate{48000};
    Samples microphone = room(1s, rate) + syllables(1s, rate);
    Samples receiver = tone(Hertz{440}, 0.01F, 2s, rate);
    const Session apart{microphone, receiver};
    const Result result = run(apart, rate, [] { return std::size_t{480}; });
    Settings settings;
    settings.transmit_audio = {.look_ahead = 60ms, .gain = Decibels{6}, .limit = Dbfs{-3}};
    Engine engine(settings, rate);
    Take take;
    engine.process({microphone, receiver, microphone, receiver}, take);
    for (std::size_t i = 0; i < frames_in(1500ms, rate); ++i) {
        expect_same_bits(microphone[i], result.transmitter[i]);
        expect_same_bits(receiver[i], result.loudspeaker[i]);
    }
}

}  // namespace
}  // namespace tripline::station::test
