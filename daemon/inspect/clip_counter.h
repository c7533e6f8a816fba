// Flat tops: sound cut off, at full scale or by an amplifier before it.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::inspect {

/// A flat top is a run of samples at full scale, or a longer one of equal samples at a high
/// level, as no microphone gives.
class ClipCounter {
public:
    explicit ClipCounter(Hertz rate)
        : shortest_equal_(std::max(4L, std::lround(rate.value * 0.25e-3))) {}

    void push(float sample) noexcept {
        const float size = std::abs(sample);
        full_ = size >= full_scale ? full_ + 1 : 0;
        equal_ = size >= high_level && sample == last_ ? equal_ + 1 : 1;
        last_ = sample;
        const bool flat = full_ >= shortest_full || equal_ >= shortest_equal_;
        if (flat && !in_top_) ++tops_;
        in_top_ = flat;
    }
    long tops() const { return tops_; }

private:
    static constexpr float full_scale = 0.999F;
    static constexpr float high_level = 0.1F;   // -20 dBFS: below, slow tones of 16 bits have equal samples too
    static constexpr long shortest_full = 3;

    long shortest_equal_;
    float last_ = 0;
    long full_ = 0;
    long equal_ = 0;
    bool in_top_ = false;
    long tops_ = 0;
};

}  // namespace tripline::inspect
