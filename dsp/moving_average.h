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
        : hops_(std::max(1.0, std::chrono::duration<double>(window).count() / hop_seconds)),
          whole_(std::floor(hops_ + 1e-6)),
          last_(1 + static_cast<std::size_t>(whole_)) {}

    Power operator()(Power power) noexcept {
        last_[at_] = power;
        if (++at_ == last_.size()) at_ = 0;
        const double oldest = last_[at_];  // of which only a part is within the window
        sum_ += power - oldest;
        return static_cast<Power>(std::max(0.0, sum_ + (hops_ - whole_) * oldest) / hops_);
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
    double hops_, whole_;
    std::vector<Power> last_;
    std::size_t at_ = 0;
    double sum_ = 0;  // of the whole hops, of floats: exact enough for days
};

}  // namespace tripline::dsp
