// Signals and rooms for the echo model's tests, at 8 kHz unless told otherwise.
#pragma once

#include "dsp/units.h"
#include "dsp/voice_band.h"

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace tripline::echo_test {

using Samples = std::vector<float>;

inline constexpr double rate = 8000;

inline std::size_t at(double seconds) { return static_cast<std::size_t>(seconds * rate); }

inline Samples white(double seconds, double rms, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, rms);
    Samples x(at(seconds));
    for (float& sample : x) sample = static_cast<float>(normal(random));
    return x;
}

/// Both channels of a telephone see the voice band only.
inline Samples in_voice_band(const Samples& x) {
    dsp::VoiceBand band({}, Hertz{rate});
    Samples y(x.size());
    for (std::size_t i = 0; i < x.size(); ++i) y[i] = band(dsp::Pair{x[i], 0})[0];
    return y;
}

inline double energy(const Samples& x, double from, double to) {
    double sum = 0;
    for (std::size_t i = at(from); i < std::min(x.size(), at(to)); ++i)
        sum += static_cast<double>(x[i]) * static_cast<double>(x[i]);
    return sum;
}

inline double decibels(double ratio) { return 10 * std::log10(ratio); }

/// A direct sound, then noise that falls by 60 dB in `reverberation` (a statistical room;
/// with a few milliseconds, the dispersion of a telephone line). Return loss in dB.
inline Samples path(double delay_s, double reverberation_s, double return_loss_db, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    const std::size_t delay = at(delay_s);
    Samples h(delay + at(reverberation_s) + 1);
    double tail = 0;
    for (std::size_t i = delay + 2; i < h.size(); ++i) {
        const double seconds = static_cast<double>(i - delay) / rate;
        h[i] = static_cast<float>(normal(random) * std::pow(10, -3 * seconds / reverberation_s));
        tail += static_cast<double>(h[i]) * static_cast<double>(h[i]);
    }
    const double gain = std::pow(10, -return_loss_db / 20);
    for (float& tap : h) tap *= static_cast<float>(gain * std::sqrt(0.5 / std::max(tail, 1e-12)));
    h[delay] = static_cast<float>(gain * std::sqrt(0.5));
    return h;
}

inline Samples through(const Samples& x, const Samples& h) {
    Samples y(x.size());
    for (std::size_t j = 0; j < h.size(); ++j) {
        if (h[j] == 0) continue;
        for (std::size_t i = j; i < x.size(); ++i) y[i] += h[j] * x[i - j];
    }
    return y;
}

/// A small loudspeaker: second and third order distortion and a soft limit, `drive` 0 to 1,
/// about `reference` peaks.
inline Samples loudspeaker(Samples x, double drive, double reference) {
    for (float& sample : x) {
        const double u = static_cast<double>(sample) / reference;
        const double bent = (u + drive * (0.2 * u * u - 0.08 * u * u * u)) / (1 + 0.3 * drive * u * u);
        sample = static_cast<float>(reference * bent);
    }
    return x;
}

/// Shaped as the composite source signal of ITU-T P.501 and G.168: 48.62 ms of a voiced
/// sound, 200 ms of noise, 101.38 ms of silence, then the same with its sign turned. The
/// voiced sound here is our own: a 125 Hz harmonic series falling 6 dB an octave.
struct Composite {
    double voiced = 0.04862;
    double period = 0.350;
    double pitch = 125;
};

/// What the near side says in double talk: 72.69, 200 and 127.31 ms (from memory of P.501,
/// moderate confidence), at another pitch.
inline constexpr Composite double_talk{0.07269, 0.400, 172};

inline Samples composite_source(double seconds, double rms, unsigned seed, Composite c = {}) {
    const Samples noise = white(seconds, rms, seed);
    Samples x(noise.size());
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double t = static_cast<double>(i) / rate;
        const double phase = std::fmod(t, c.period);
        const double sign = std::fmod(t, 2 * c.period) < c.period ? 1 : -1;
        double value = 0;
        if (phase < c.voiced) {
            for (int k = 3; k < 18; ++k)
                value += std::cos(2 * std::numbers::pi * c.pitch * k * phase + k * k * 0.7) / k;
            value *= 3 * rms;
        } else if (phase < c.voiced + 0.2) {
            value = static_cast<double>(noise[i]);
        }
        x[i] = static_cast<float>(sign * value);
    }
    return x;
}

}  // namespace tripline::echo_test
