// Who speaks over a receiver's take is told; the receiver's own sound at the microphone is not.
#include "daemon/setup/leak_path.h"
#include "daemon/setup/stray.h"
#include "tests/setup/spoken_over.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Hertz rate{8000};
constexpr Duration told_from = 200ms;   // as in take.cpp

class TheStraySound : public testing::Test {
protected:
    Duration in(const SpokenOver& known) { return stray_sound(take_of(known, corpus_), rate, room_of(known, corpus_)); }

    inline static scene::Corpus corpus_{rate};
};

TEST_F(TheStraySound, IsAVoiceThroughMostOfTheTakeAsLoudAsTheLeakOrLouder) {
    std::uint64_t seed = 108;
    for (const double share : {0.8, 0.95})
        for (const double talker : {0.0, 10.0})
            for (const double leak : {-12.0, 6.0})
                EXPECT_GT(in({.seed = ++seed, .leak_db = leak, .talker_db = talker, .share = share, .echo = 400ms, .way = 60ms, .drive = 0.5}), told_from)
                    << "seed " << seed << ", share " << share << ", voice " << talker << " dB over a leak of " << leak << " dB";
}

TEST_F(TheStraySound, IsNotWhatTheLoudspeakerMakes) {
    std::uint64_t seed = 200;
    for (const double leak : {-40.0, 6.0}) {
        const SpokenOver plain{.seed = ++seed, .leak_db = leak, .echo = 400ms, .way = 60ms, .drive = 0.5};
        for (const Duration way : {0ms, 200ms}) {
            SpokenOver known = plain;
            known.echo = 3 * way;
            known.way = way;
            EXPECT_LE(in(known), told_from) << "leak " << leak << " dB, way " << way.count() << " ns";
        }
        SpokenOver bent = plain;
        bent.drive = 1;
        EXPECT_LE(in(bent), told_from) << "bent, leak " << leak;
        SpokenOver swinging = plain;
        swinging.swing_db = 6;
        EXPECT_LE(in(swinging), told_from) << "the microphone's gain swings, leak " << leak;
    }
}

TEST_F(TheStraySound, IsNotALeakBetweenTwoClocks) {
    std::uint64_t seed = 300;
    for (const double ppm : {-190.0, 15.0, 60.0})
        EXPECT_LE(in({.seed = ++seed, .leak_db = 0, .echo = 300ms, .way = 20ms, .apart_ppm = ppm}), told_from) << ppm << " ppm";
}

TEST_F(TheStraySound, LastsAsLongAsTheVoiceDoes) {
    const SpokenOver known{.seed = 7, .leak_db = -6, .talker_db = 15, .share = 0.2, .echo = 300ms, .way = 20ms, .length = 10s};
    EXPECT_GT(in(known), 500ms);
    EXPECT_LT(in(known), 4s);
}

/// Noise, and what a way of one echo makes of it.
struct Known {
    Known() {
        scene::Random random(3);
        for (int i = 0; i < 40000; ++i) receiver.push_back(static_cast<float>(0.1 * random.normal()));
        for (std::size_t i = 0; i < receiver.size(); ++i) {
            const auto at = [&](std::size_t late) { return i < late ? 0.0F : receiver[i - late]; };
            microphone.push_back(0.5F * at(80) - 0.3F * at(700));
        }
    }
    std::vector<float> receiver;
    std::vector<float> microphone;
};

double left_db(const LeakPath& path, const Known& known) {
    const auto leak = path.sound_of(known.receiver);
    double left = 0, whole = 0;
    for (std::size_t i = 5000; i < leak.size(); ++i) {
        left += std::pow(known.microphone[i] - leak[i], 2);
        whole += std::pow(known.microphone[i], 2);
    }
    return 10 * std::log10(left / whole);
}

TEST(TheLeakPath, ExplainsWhatAFixedWayMakesOfTheReceiver) {
    const Known known;
    EXPECT_LT(left_db(LeakPath(known.microphone, known.receiver, Hertz{8000}), known), -30);
}

TEST(TheLeakPath, IsFoundWhereTheMicrophoneIsFirst) {
    Known known;
    std::rotate(known.microphone.begin(), known.microphone.begin() + 480, known.microphone.end());
    EXPECT_LT(left_db(LeakPath(known.microphone, known.receiver, Hertz{8000}), known), -18);
}

TEST(TheLeakPath, TellsByHowMuchAnotherIsLater) {
    Known known;
    const LeakPath before(known.microphone, known.receiver, Hertz{8000});
    std::rotate(known.microphone.begin(), known.microphone.end() - 3, known.microphone.end());
    const LeakPath after(known.microphone, known.receiver, Hertz{8000});
    EXPECT_NEAR(before.shift_to(after), 3, 0.05);
    EXPECT_NEAR(after.shift_to(before), -3, 0.05);
}

}  // namespace
}  // namespace tripline::setup
