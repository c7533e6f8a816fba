// Second-order filter section for both inputs.
#pragma once

#include "dsp/pair.h"
#include "dsp/units.h"

#include <numbers>
#include <span>

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
    explicit Biquad(const BiquadCoefficients& c)
        : b0_(all(c.b0)), b1_(all(c.b1)), b2_(all(c.b2)), a1_(all(c.a1)), a2_(all(c.a2)) {}

    Pair operator()(Pair sample) noexcept {
        const Quad x = wide(sample);
        const Quad y = b0_ * x + wide(s1_);
        s1_ = low(b1_ * x - a1_ * y + wide(s2_));
        s2_ = low(b2_ * x - a2_ * y);
        return low(y);
    }

    void reset() noexcept { s1_ = s2_ = Pair{}; }
    template <typename Visit> void memory(Visit& visit) {
        visit(s1_);
        visit(s2_);
    }

private:
    friend class TwoBiquads;

    Quad b0_, b1_, b2_, a1_, a2_;
    Pair s1_{};
    Pair s2_{};
};

/// Two sections in the same instructions for as long as this lives: the low half of a Quad goes
/// through the first, the high half through the second.
class TwoBiquads {
public:
    TwoBiquads(Biquad& first, Biquad& second) noexcept
        : first_(first),
          second_(second),
          b0_(halves(first.b0_, second.b0_)),
          b1_(halves(first.b1_, second.b1_)),
          b2_(halves(first.b2_, second.b2_)),
          a1_(halves(first.a1_, second.a1_)),
          a2_(halves(first.a2_, second.a2_)),
          s1_(quad(first.s1_, second.s1_)),
          s2_(quad(first.s2_, second.s2_)) {}
    ~TwoBiquads() {
        first_.s1_ = low(s1_);
        first_.s2_ = low(s2_);
        second_.s1_ = high(s1_);
        second_.s2_ = high(s2_);
    }
    TwoBiquads(const TwoBiquads&) = delete;
    TwoBiquads& operator=(const TwoBiquads&) = delete;

    Quad operator()(Quad x) noexcept {
        const Quad y = b0_ * x + s1_;
        s1_ = b1_ * x - a1_ * y + s2_;
        s2_ = b2_ * x - a2_ * y;
        return y;
    }

private:
    static Quad halves(Quad first, Quad second) noexcept { return quad(low(first), high(second)); }

    Biquad& first_;
    Biquad& second_;
    Quad b0_, b1_, b2_, a1_, a2_, s1_, s2_;
};

/// A block through two sections in series, in its place. While the first takes a sample, the
/// second takes what the first made of the one before; what comes out is the same to the bit.
inline void in_series(Biquad& first, Biquad& second, std::span<Pair> sound) noexcept {
    if (sound.empty()) return;
    Pair after_first = first(sound[0]);
    {
        TwoBiquads step(first, second);
        for (std::size_t i = 1; i < sound.size(); ++i) {
            const Quad y = step(quad(sound[i], after_first));
            after_first = low(y);
            sound[i - 1] = high(y);
        }
    }
    sound.back() = second(after_first);
}

/// The same for four sections, into `out`. `in(i)` gives the samples of the block, one after another.
template <typename In>
void in_series(Biquad& a, Biquad& b, Biquad& c, Biquad& d, In in, std::span<Pair> out) noexcept {
    if (out.size() < 2) {
        for (std::size_t i = 0; i < out.size(); ++i) out[i] = d(c(b(a(in(i)))));
        return;
    }
    Pair after_a = a(in(0));
    Pair after_b = b(after_a);
    after_a = a(in(1));
    Pair after_c = c(after_b);
    {
        TwoBiquads ab(a, b);
        TwoBiquads cd(c, d);
        for (std::size_t i = 2; i < out.size(); ++i) {
            const Quad y = ab(quad(in(i), after_a));
            const Quad z = cd(quad(high(y), after_c));
            after_a = low(y);
            after_c = low(z);
            out[i - 2] = high(z);
        }
    }
    after_b = b(after_a);
    out[out.size() - 2] = d(after_c);
    out.back() = d(c(after_b));
}

}  // namespace tripline::dsp
