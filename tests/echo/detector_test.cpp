// The detector with the echo method: a loud loudspeaker does not key, the operator does.
#include "dsp/denormals.h"
#include "dsp/detector.h"
#include "tests/echo/speech.h"

#include <gtest/gtest.h>

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

TEST(TheDetectorWithTheEchoMethod, ClaimsNoTrustWithTheOtherMethod) {
    const Detector detector({}, Hertz{rate});
    EXPECT_FALSE(detector.trust().sure);
    EXPECT_EQ(detector.trust().confidence, 0);
}

}  // namespace
}  // namespace tripline::echo_test
