// Made sounds for the detector's tests.
#pragma once

#include "dsp/denormals.h"
#include "dsp/detector.h"

#include <functional>
#include <memory>
#include <numbers>
#include <random>
#include <vector>

namespace tripline::dsp {

constexpr double rate = 48000;
constexpr double hop_seconds = 1e-3;

using Sound = std::function<float(double seconds)>;

/// A buzz of ten harmonics at 130 Hz in syllables, four a second. Its peaks are at `level`.
inline Sound voice(Dbfs level, double begin, double end) {
    const double gain = std::pow(10.0, level.value / 20) * 0.5;
    return [=](double t) {
        if (t < begin || t >= end) return 0.0F;
        double buzz = 0;
        for (int k = 1; k <= 10; ++k) buzz += std::sin(2 * std::numbers::pi * 130 * k * t + k * k);
        const double syllable = std::pow(std::sin(std::numbers::pi * 4 * (t - begin)), 2);
        return static_cast<float>(gain * buzz * syllable);
    };
}

inline Sound tone(Dbfs level, double frequency, double begin, double end) {
    const double gain = std::pow(10.0, level.value / 20);
    return [=](double t) {
        return t < begin || t >= end
                   ? 0.0F
                   : static_cast<float>(gain * std::sin(2 * std::numbers::pi * frequency * t));
    };
}

/// White noise between two moments; the same at every run.
inline Sound noise(Dbfs level, double begin, double end, unsigned seed = 1) {
    auto random = std::make_shared<std::mt19937>(seed);
    const auto gain = static_cast<float>(std::pow(10.0, level.value / 20));
    return [=](double t) {
        const auto x = static_cast<float>((*random)()) / 2147483648.0F - 1.0F;
        return t < begin || t >= end ? 0.0F : 1.2F * gain * x;
    };
}

inline Sound operator+(Sound a, Sound b) {
    return [a = std::move(a), b = std::move(b)](double t) { return a(t) + b(t); };
}

/// The verdicts of a run, one a hop.
inline std::vector<Heard> hear(Detector& detector, double seconds, const Sound& microphone,
                               const Sound& receiver = [](double) { return 0.0F; }) {
    const DenormalsOff off;
    std::vector<Heard> heard;
    for (int n = 0; n < static_cast<int>(seconds * rate); ++n) {
        const double t = n / rate;
        if (detector.push(microphone(t), receiver(t))) heard.push_back(detector.heard());
    }
    return heard;
}

/// Time of the first hop for which `is` holds, in seconds, or -1.
inline double first(const std::vector<Heard>& heard, const std::function<bool(const Heard&)>& is,
                    double after = 0) {
    for (std::size_t i = 0; i < heard.size(); ++i) {
        const double t = static_cast<double>(i + 1) * hop_seconds;
        if (t > after && is(heard[i])) return t;
    }
    return -1;
}

inline bool held(const Heard& h) { return h.held; }

}  // namespace tripline::dsp
