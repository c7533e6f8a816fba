// Tracks the level of the room when nobody speaks.
#pragma once

#include "dsp/one_pole.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>

namespace tripline::dsp {

/// The lowest smoothed power of the last few seconds. Speech has gaps inside that span,
/// so it cannot lift the floor for long; a fan has none and is learnt when the span is
/// over. Stretches where the receiver's leak may hide the room are left out.
class NoiseFloor {
public:
    explicit NoiseFloor(double hop_seconds)
        : smoothing_(1 - decay_per_step(std::chrono::milliseconds{50}, hop_seconds)),
          hops_a_span_(std::max(1L, std::lround(0.4 / hop_seconds))) {
        reset();
    }

    /// Microphone average and predicted leak in; the floor out. One call a hop.
    Power operator()(Power microphone, Power leak) noexcept {
        smooth_ += smoothing_ * (microphone - smooth_);
        if (microphone < 2 * leak) return floor_;
        current_ = std::min(current_, smooth_);
        floor_ = std::min(floor_, current_);
        if (++hops_ >= hops_a_span_) next_span();
        return floor_;
    }

    Power floor() const noexcept { return floor_; }

    void reset() noexcept {
        spans_.fill(unknown);
        current_ = unknown;
        smooth_ = floor_ = start;
        hops_ = 0;
        next_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        std::rotate(spans_.begin(), spans_.begin() + static_cast<std::ptrdiff_t>(next_), spans_.end());
        next_ = 0;
        visit(spans_);
        visit(current_);
        visit(smooth_);
        visit(floor_);
        visit(hops_);
    }

private:
    static constexpr Power unknown = 1e9F;
    static constexpr Power start = 1e-6F;

    void next_span() noexcept {
        spans_[next_] = current_;
        next_ = (next_ + 1) % spans_.size();
        current_ = unknown;
        hops_ = 0;
        const Power lowest = *std::min_element(spans_.begin(), spans_.end());
        if (lowest < unknown) floor_ = lowest;
    }

    float smoothing_;
    long hops_a_span_;
    std::array<Power, 8> spans_{};
    Power current_ = unknown;
    Power smooth_ = 0;
    Power floor_ = 0;
    long hops_ = 0;
    std::size_t next_ = 0;
};

}  // namespace tripline::dsp
