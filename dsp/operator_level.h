// Remembers how loud the operator speaks.
#pragma once

#include "dsp/units.h"

#include <cmath>

namespace tripline::dsp {

/// The peak power of the operator's spells: each spell moves it half way, in decibels.
class OperatorLevel {
public:
    explicit OperatorLevel(Dbfs expected) : expected_(to_power(expected)) { reset(); }

    void heard(Power peak) noexcept {
        if (peak > 0) level_ = std::sqrt(level_ * peak);
    }
    Power peak() const noexcept { return level_; }

    void reset() noexcept { level_ = expected_; }
    template <typename Visit> void memory(Visit& visit) { visit(level_); }

private:
    Power expected_;
    Power level_ = 0;
};

}  // namespace tripline::dsp
