// Second-order filter section for both inputs.
#pragma once

#include "dsp/pair.h"
#include "dsp/units.h"

#include <numbers>

namespace tripline::dsp {

/// Transfer function (b0 + b1/z + b2/z^2) / (1 + a1/z + a2/z^2).
struct BiquadCoefficients {
    float b0 = 1, b1 = 0, b2 = 0, a1 = 0, a2 = 0;
};

/// Low-pass by the bilinear transform, corner pre-warped. Q of 1/sqrt(2) is Butterworth.
inline BiquadCoefficients low_pass(Hertz corner, double q, Hertz rate) {
    const double w = 2 * std::numbers::pi * corner.value / rate.value;
    const double alpha = std::sin(w) / (2 * q);
    const double scale = 1 / (1 + alpha);
    const double b = (1 - std::cos(w)) / 2 * scale;
    return {static_cast<float>(b), static_cast<float>(2 * b), static_cast<float>(b),
            static_cast<float>(-2 * std::cos(w) * scale), static_cast<float>((1 - alpha) * scale)};
}

/// High-pass, likewise.
inline BiquadCoefficients high_pass(Hertz corner, double q, Hertz rate) {
    const double w = 2 * std::numbers::pi * corner.value / rate.value;
    const double alpha = std::sin(w) / (2 * q);
    const double scale = 1 / (1 + alpha);
    const double b = (1 + std::cos(w)) / 2 * scale;
    return {static_cast<float>(b), static_cast<float>(-2 * b), static_cast<float>(b),
            static_cast<float>(-2 * std::cos(w) * scale), static_cast<float>((1 - alpha) * scale)};
}

/// Transposed direct form II.
class Biquad {
public:
    explicit Biquad(const BiquadCoefficients& c) : taps_{all(c.b0), all(c.b1), all(c.b2), all(c.a1), all(c.a2)} {}

    Pair operator()(Pair sample) noexcept {
        const Quad x = wide(sample);
        const Quad y = taps_.b0 * x + wide(state_.s1);
        state_.s1 = low(taps_.b1 * x - taps_.a1 * y + wide(state_.s2));
        state_.s2 = low(taps_.b2 * x - taps_.a2 * y);
        return low(y);
    }

    void reset() noexcept { state_ = {}; }
    template <typename Visit> void memory(Visit& visit) {
        visit(state_.s1);
        visit(state_.s2);
    }

    /// Each coefficient in every lane.
    struct Taps {
        Quad b0{}, b1{}, b2{}, a1{}, a2{};
    };
    struct State {
        Pair s1{}, s2{};
    };
    /// For who computes several sections at once.
    const Taps& taps() const noexcept { return taps_; }
    State& state() noexcept { return state_; }

private:
    Taps taps_;
    State state_;
};

}  // namespace tripline::dsp
