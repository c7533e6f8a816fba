// Mean over the last stretch of time.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tripline::dsp {

/// Mean of the powers of the last `window`, with silence before the first. What repeats within
/// the window, as the beats of a mains hum do within a mains period, leaves it still.
class MovingAverage {
public:
    MovingAverage(Duration window, double hop_seconds)
        : last_(static_cast<std::size_t>(std::max(
              1L, std::lround(std::chrono::duration<double>(window).count() / hop_seconds)))),
          hops_(static_cast<double>(last_.size())) {}

    Power operator()(Power power) noexcept {
        sum_ += static_cast<double>(power) - static_cast<double>(last_[at_]);
        last_[at_] = power;
        if (++at_ == last_.size()) at_ = 0;
        return static_cast<Power>(std::max(0.0, sum_) / hops_);
    }

    void reset() noexcept {
        std::ranges::fill(last_, Power{0});
        sum_ = 0;
        at_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(last_);
        visit(at_, last_.size());
        visit(sum_);
    }

private:
    std::vector<Power> last_;
    double hops_;
    std::size_t at_ = 0;
    double sum_ = 0;  // of floats: exact enough for days
};

}  // namespace tripline::dsp
