// Notices a sound that stays level as no voice does.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// True once the mean power has kept within the ripple for the set time. One call a hop.
class Steadiness {
public:
    Steadiness(const SteadySettings& settings, double hop_seconds)
        : ripple_(static_cast<float>(to_ratio(settings.ripple))),
          lasts_(std::max(1L, std::lround(std::chrono::duration<double>(settings.lasts).count() /
                                          hop_seconds))) {}

    /// `mean` over the window; `sounding` while there is a sound to watch; without one the time begins anew.
    bool operator()(Power mean, bool sounding) noexcept {
        low_ = std::min(low_, mean);
        high_ = std::max(high_, mean);
        if (!sounding || high_ > ripple_ * low_) {
            low_ = high_ = mean;
            level_for_ = 0;
        }
        return ++level_for_ >= lasts_;
    }

    void reset() noexcept {
        low_ = high_ = 0;
        level_for_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(low_);
        visit(high_);
        visit(level_for_);
    }

private:
    float ripple_;
    long lasts_;
    Power low_ = 0, high_ = 0;
    long level_for_ = 0;
};

}  // namespace tripline::dsp
