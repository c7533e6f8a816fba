// Whether all that decides is shown.
#include "daemon/station/memory.h"
#include "tests/dsp/sounds.h"

#include <gtest/gtest.h>

namespace tripline::station {
namespace {

using dsp::Detector;
using dsp::Sound;
using dsp::operator+;

struct Shown {
    Detector& detector;
    template <typename Visit> void memory(Visit& visit) {
        detector.memory_of_sounds(visit);
        detector.memory_of_judgement(visit);
    }
};

std::vector<std::byte> shown_by(Detector& detector) {
    Shown shown{detector};
    return memory_of(shown);
}

/// Another talker goes on in the room while the operator speaks once, after a murmur; then the receiver does.
const Sound radio = dsp::voice(Dbfs{-26}, 5, 7.5);
const Sound evening = dsp::noise(Dbfs{-60}, 0, 1e9) + dsp::tone(Dbfs{-26}, 120, 0.9, 1.05) + dsp::voice(Dbfs{-20}, 1, 3) +
                      dsp::voice(Dbfs{-36}, 2, 8) + dsp::voice(Dbfs{-38}, 5.003, 7.503);

struct Hop {
    std::vector<float> microphone, receiver;
    Hop(int number, std::size_t frames) {
        for (std::size_t i = 0; i < frames; ++i) {
            const double t = static_cast<double>(static_cast<std::size_t>(number) * frames + i) / dsp::rate;
            microphone.push_back(evening(t));
            receiver.push_back(radio(t));
        }
    }
    void into(Detector& detector) const { detector.push(microphone, receiver, [](std::size_t) {}); }
};

class TheMemoryOfADetector : public testing::TestWithParam<dsp::AntiTrip> {};

TEST_P(TheMemoryOfADetector, IsAllThatDecidesAfterAnyHop) {
    const dsp::DenormalsOff off;
    dsp::DetectorSettings settings;
    settings.leak.method = GetParam();
    Detector detector(settings, Hertz{dsp::rate});
    Detector other(settings, Hertz{dsp::rate});  // comes from a moment before
    Shown shown{other};
    long held = 0;
    for (int n = 0; n < 9000; ++n) {
        const Hop hop(n, static_cast<std::size_t>(detector.hop().count));
        const bool looks = n % 7 == 0;
        const auto before = looks ? shown_by(detector) : std::vector<std::byte>{};
        hop.into(detector);
        held += detector.heard().held ? 1 : 0;
        if (!looks) continue;
        MemoryReader reader(before);
        shown.memory(reader);
        ASSERT_TRUE(reader.good());
        hop.into(other);
        ASSERT_TRUE(shown_by(other) == shown_by(detector)) << "hop " << n << ", held " << detector.heard().held;
    }
    EXPECT_GT(held, 4000) << "much of it within a spell";
}

INSTANTIATE_TEST_SUITE_P(ByEachMethod, TheMemoryOfADetector, testing::Values(dsp::AntiTrip::envelope, dsp::AntiTrip::echo),
                         [](const auto& method) { return method.param == dsp::AntiTrip::echo ? "echo" : "envelope"; });

}  // namespace
}  // namespace tripline::station
