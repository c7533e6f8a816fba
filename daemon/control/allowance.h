// So many at once, so many a second. Pure: time is given.
#pragma once

#include "dsp/units.h"

#include <algorithm>

namespace tripline::control {

class Allowance {
public:
    Allowance(double a_second, double at_once) : a_second_(a_second), at_once_(at_once), left_(at_once) {}

    /// False: not now. `now` never runs backwards.
    bool take(Duration now) {
        const double since = std::chrono::duration<double>(now - last_).count();
        left_ = std::min(at_once_, left_ + since * a_second_);
        last_ = now;
        if (left_ < 1) return false;
        left_ -= 1;
        return true;
    }

private:
    double a_second_, at_once_, left_;
    Duration last_{0};
};

}  // namespace tripline::control
