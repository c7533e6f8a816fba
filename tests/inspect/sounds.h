// Sounds with one thing wrong with them.
#pragma once

#include "dsp/units.h"

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace tripline::inspect {

using Samples = std::vector<float>;

inline constexpr Hertz rate{16000};

inline double amplitude(double dbfs) { return to_amplitude(Decibels{dbfs}); }

inline Samples tone(double hz, double dbfs, double seconds, Hertz at = rate) {
    Samples out(static_cast<std::size_t>(seconds * at.value));
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double turns = hz * static_cast<double>(i) / at.value;
        out[i] = static_cast<float>(amplitude(dbfs) * std::sin(2 * std::numbers::pi * turns));
    }
    return out;
}

/// White, of this level (the mean of 2 x^2).
inline Samples noise(double dbfs, double seconds, unsigned seed, Hertz at = rate) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, amplitude(dbfs) / std::numbers::sqrt2);
    Samples out(static_cast<std::size_t>(seconds * at.value));
    for (float& sample : out) sample = static_cast<float>(normal(random));
    return out;
}

/// Syllables: noise 4 times a second, with pauses.
inline Samples syllables(double dbfs, double seconds, unsigned seed, Hertz at = rate) {
    Samples out = noise(dbfs, seconds, seed, at);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double turns = 4 * static_cast<double>(i) / at.value;
        const double shape = 0.5 - 0.5 * std::cos(2 * std::numbers::pi * turns);
        const bool pause = std::fmod(static_cast<double>(i) / at.value, 3.0) > 2.0;
        out[i] *= static_cast<float>(pause ? 0.001 : shape);
    }
    return out;
}

inline Samples operator+(Samples a, const Samples& b) {
    for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) a[i] += b[i];
    return a;
}

inline Samples scaled(Samples a, double factor) {
    for (float& sample : a) sample *= static_cast<float>(factor);
    return a;
}

inline Samples later(const Samples& a, std::size_t frames) {
    Samples out(a.size());
    std::copy(a.begin(), a.end() - static_cast<std::ptrdiff_t>(frames), out.begin() + static_cast<std::ptrdiff_t>(frames));
    return out;
}

}  // namespace tripline::inspect
