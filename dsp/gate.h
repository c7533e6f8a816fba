// Opens on sound that lasts, closes a little lower.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// Two thresholds and a qualifying time. One call a hop.
class Gate {
public:
    Gate(const GateSettings& settings, double hop_seconds)
        : closing_(static_cast<float>(to_ratio(Decibels{-settings.hysteresis.value}))),
          qualify_(std::max(
              1L, std::lround(std::chrono::duration<double>(settings.qualify).count() /
                              hop_seconds))) {}

    /// True while open. `power` has to exceed `threshold` for the qualifying time.
    bool operator()(Power power, Power threshold) noexcept {
        if (open_) {
            open_ = power >= closing_ * threshold;
            if (!open_) above_ = 0;
        } else {
            above_ = power > threshold ? above_ + 1 : 0;
            open_ = above_ >= qualify_;
        }
        return open_;
    }

    bool qualifying() const noexcept { return !open_ && above_ > 0; }

    void reset() noexcept {
        open_ = false;
        above_ = 0;
    }

private:
    float closing_;
    long qualify_;
    long above_ = 0;
    bool open_ = false;
};

}  // namespace tripline::dsp
