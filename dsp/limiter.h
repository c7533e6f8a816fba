// Keeps a loud voice from overdriving the transmitter.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// Turns the gain down at once and back up with the release, to 1/e of the peak. No sample
/// leaves above the limit, and none leaves as a NaN or an infinity.
class Limiter {
public:
    /// `limit` is a peak: 0 dBFS is full scale.
    Limiter(Dbfs limit, Duration release, Hertz rate)
        : limit_(rounded_down(std::pow(10.0, limit.value / 20.0))),
          decay_(static_cast<float>(
              std::exp(-1 / (std::chrono::duration<double>(release).count() * rate.value)))) {}

    float operator()(float sample) noexcept {
        if (std::isnan(sample)) sample = 0;
        sample = std::clamp(sample, -largest, largest);
        peak_ = std::max(std::abs(sample), decay_ * peak_);
        if (peak_ > limit_) sample *= limit_ / peak_;
        return std::clamp(sample, -limit_, limit_);
    }

    void reset() noexcept { peak_ = 0; }

private:
    static constexpr float largest = 1e6F;  // +120 dBFS: nothing real is louder

    static float rounded_down(double limit) {
        const float nearest = static_cast<float>(limit);
        return static_cast<double>(nearest) > limit ? std::nextafter(nearest, 0.0F) : nearest;
    }

    float limit_;
    float decay_;
    float peak_ = 0;
};

}  // namespace tripline::dsp
