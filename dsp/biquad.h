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
    explicit Biquad(const BiquadCoefficients& c) : c_(c) {}

    Pair operator()(Pair x) noexcept {
        const Pair y = c_.b0 * x + s1_;
        s1_ = c_.b1 * x - c_.a1 * y + s2_;
        s2_ = c_.b2 * x - c_.a2 * y;
        return y;
    }

    void reset() noexcept { s1_ = s2_ = Pair{}; }
    template <typename Visit> void memory(Visit& visit) {
        visit(s1_);
        visit(s2_);
    }

private:
    BiquadCoefficients c_;
    Pair s1_{};
    Pair s2_{};
};

}  // namespace tripline::dsp
