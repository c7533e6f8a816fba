// The way from the loudspeaker to the microphone.
#pragma once

#include "tests/scene/convolver.h"
#include "tests/scene/random.h"

#include "dsp/units.h"

#include <optional>
#include <vector>

namespace tripline::scene {

struct PathSettings {
    Duration delay{5000000};   ///< receiver output to microphone: sound card, then air
    Duration reverberation{};  ///< RT60; zero: a room without echo
    double drive = 0;          ///< loudspeaker's distortion: 0 none, 1 strong
    Decibels direct{6};        ///< direct sound over the reverberant sound, in power
};

/// Impulse response of a synthetic room: a direct sound, then noise that decays by 60 dB
/// in the reverberation time; its power is 1.
std::vector<float> room_response(const PathSettings& settings, std::uint64_t seed, Hertz rate);

/// Delays, distorts and reverberates; its gain in power is about 1.
class Path {
public:
    /// `level` is that of the speech that comes in, the measure of the distortion.
    Path(const PathSettings& settings, Dbfs level, std::uint64_t seed, Hertz rate);
    float operator()(float in);

private:
    float distort(float in) const;

    double drive_;
    float scale_;
    std::vector<float> ring_;
    std::size_t at_ = 0;
    std::optional<Convolver> room_;
};

}  // namespace tripline::scene
