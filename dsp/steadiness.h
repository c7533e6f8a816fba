// Notices a sound that stays level as no voice does.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/one_pole.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// True once the smoothed power has kept within the ripple for the set time. One call a hop.
class Steadiness {
public:
    Steadiness(const SteadySettings& settings, double hop_seconds)
        : ripple_(static_cast<float>(to_ratio(settings.ripple))),
          smoothing_(1 - decay_per_step(settings.smoothing, hop_seconds)),
          lasts_(std::max(1L, std::lround(std::chrono::duration<double>(settings.lasts).count() /
                                          hop_seconds))) {}

    /// `sounding` while there is a sound to watch; without one the time begins anew.
    bool operator()(Power power, bool sounding) noexcept {
        smooth_ += smoothing_ * (power - smooth_);
        low_ = std::min(low_, smooth_);
        high_ = std::max(high_, smooth_);
        if (!sounding || high_ > ripple_ * low_) {
            low_ = high_ = smooth_;
            level_for_ = 0;
        }
        return ++level_for_ >= lasts_;
    }

    void reset() noexcept {
        smooth_ = low_ = high_ = 0;
        level_for_ = 0;
    }

private:
    float ripple_, smoothing_;
    long lasts_;
    Power smooth_ = 0, low_ = 0, high_ = 0;
    long level_for_ = 0;
};

}  // namespace tripline::dsp
