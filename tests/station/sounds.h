// Sounds to drive an engine with: made, not recorded, and the same every time.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

namespace tripline::station::test {

using Samples = std::vector<float>;

inline std::size_t frames_in(Duration duration, Hertz rate) {
    return static_cast<std::size_t>(to_frames(duration, rate).count);
}

/// A room at about -80 dBFS.
inline Samples room(Duration duration, Hertz rate, std::uint32_t seed = 1) {
    std::mt19937 random(seed);
    std::normal_distribution<float> noise(0.0F, 7e-5F);
    Samples samples(frames_in(duration, rate));
    for (float& sample : samples) sample = noise(random);
    return samples;
}

/// A buzz at a voice's pitch with the syllables of speech: three, then a pause, every second.
inline float voice_at(double time, double pitch_hz) {
    const bool pause = time - std::floor(time) > 0.75;
    const double shape = pause ? 0.0 : std::pow(std::sin(4 * std::numbers::pi * time), 2.0);
    const double cycle = pitch_hz * time;
    return static_cast<float>(shape * 2 * (cycle - std::floor(cycle) - 0.5));
}

/// Syllables at -20 dBFS or so, in a little breath.
inline Samples syllables(Duration duration, Hertz rate, std::uint32_t seed = 1) {
    std::mt19937 random(seed);
    std::normal_distribution<float> breath(0.0F, 0.003F);
    const double pitch_hz = 100 + static_cast<double>(random() % 80);
    Samples samples(frames_in(duration, rate));
    for (std::size_t i = 0; i < samples.size(); ++i)
        samples[i] =
            0.3F * voice_at(static_cast<double>(i) / rate.value, pitch_hz) + breath(random);
    return samples;
}

inline Samples tone(Hertz frequency, float amplitude, Duration duration, Hertz rate) {
    Samples samples(frames_in(duration, rate));
    const double step = 2 * std::numbers::pi * frequency.value / rate.value;
    for (std::size_t i = 0; i < samples.size(); ++i)
        samples[i] = amplitude * static_cast<float>(std::sin(step * static_cast<double>(i)));
    return samples;
}

inline Samples operator+(const Samples& first, const Samples& second) {
    Samples joined(first.size() + second.size());
    std::copy(second.begin(), second.end(), std::copy(first.begin(), first.end(), joined.begin()));
    return joined;
}

}  // namespace tripline::station::test
