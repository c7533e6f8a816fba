// A band-pass for scenes, apart from the detector's own filters on purpose: a scene
// must not share an error with what it tests.
#pragma once

#include "dsp/units.h"

#include <array>
#include <cmath>
#include <numbers>

namespace tripline::scene {

/// Second-order section by the bilinear transform (Butterworth Q by default).
class Section {
public:
    enum class Kind { low_pass, high_pass };

    Section(Kind kind, Hertz corner, Hertz rate, double q = std::numbers::sqrt2 / 2) {
        const double w = 2 * std::numbers::pi * corner.value / rate.value;
        const double alpha = std::sin(w) / (2 * q);
        const double c = std::cos(w);
        const double edge = kind == Kind::low_pass ? (1 - c) / 2 : (1 + c) / 2;
        const double a0 = 1 + alpha;
        b0_ = edge / a0;
        b1_ = (kind == Kind::low_pass ? 2 : -2) * edge / a0;
        a1_ = -2 * c / a0;
        a2_ = (1 - alpha) / a0;
    }

    double operator()(double in) {
        const double out = b0_ * in + s1_;
        s1_ = b1_ * in - a1_ * out + s2_;
        s2_ = b0_ * in - a2_ * out;
        return out;
    }

private:
    double b0_, b1_, a1_, a2_;
    double s1_ = 0, s2_ = 0;
};

/// Fourth-order slopes on both sides.
class BandPass {
public:
    BandPass(Hertz low, Hertz high, Hertz rate)
        : sections_{Section{Section::Kind::high_pass, low, rate, 0.5412},
                    Section{Section::Kind::high_pass, low, rate, 1.3066},
                    Section{Section::Kind::low_pass, high, rate, 0.5412},
                    Section{Section::Kind::low_pass, high, rate, 1.3066}} {}

    double operator()(double in) {
        for (Section& section : sections_) in = section(in);
        return in;
    }

private:
    std::array<Section, 4> sections_;
};

}  // namespace tripline::scene
