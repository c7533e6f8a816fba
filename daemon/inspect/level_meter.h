// Peak and constant part of one channel.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::inspect {

class LevelMeter {
public:
    void push(float sample) noexcept {
        peak_ = std::max(peak_, std::abs(sample));
        sum_ += sample;
        ++count_;
    }
    /// Of the highest sample, full scale being 0 dBFS.
    Dbfs peak() const { return to_dbfs(peak_ * peak_); }
    /// Of the mean, as a share of full scale.
    double constant() const { return count_ > 0 ? sum_ / static_cast<double>(count_) : 0; }

private:
    float peak_ = 0;
    double sum_ = 0;
    std::int64_t count_ = 0;
};

}  // namespace tripline::inspect
