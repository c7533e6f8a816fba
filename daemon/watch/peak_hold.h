// A meter's peak: stands for a while, then falls. Pure: time is given.
#pragma once

#include "dsp/units.h"

#include <algorithm>

namespace tripline::watch {

class PeakHold {
public:
    static constexpr Duration stands = std::chrono::milliseconds{1500};
    static constexpr double falls_db_a_second = 20;

    double operator()(double level_dbfs, Duration now) {
        if (now - reached_ > stands) {
            peak_ -= falls_db_a_second * std::chrono::duration<double>(now - std::max(seen_, reached_ + stands)).count();
        }
        seen_ = now;
        if (level_dbfs >= peak_) {
            peak_ = level_dbfs;
            reached_ = now;
        }
        return peak_;
    }

private:
    double peak_ = -200;
    Duration reached_{0};
    Duration seen_{0};
};

}  // namespace tripline::watch
