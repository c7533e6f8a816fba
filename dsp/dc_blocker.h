// Takes the constant part out of both inputs.
#pragma once

#include "dsp/pair.h"
#include "dsp/units.h"

#include <numbers>

namespace tripline::dsp {

/// First-order high-pass: y = x - x' + r y'.
class DcBlocker {
public:
    DcBlocker(Hertz corner, Hertz rate)
        : r_(static_cast<float>(std::exp(-2 * std::numbers::pi * corner.value / rate.value))) {}

    Pair operator()(Pair x) noexcept {
        out_ = x - in_ + r_ * out_;
        in_ = x;
        return out_;
    }

    void reset() noexcept { in_ = out_ = Pair{}; }
    template <typename Visit> void memory(Visit& visit) {
        visit(in_);
        visit(out_);
    }

private:
    float r_;
    Pair in_{};
    Pair out_{};
};

}  // namespace tripline::dsp
