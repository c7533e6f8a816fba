// How long to wait before the next try: doubles with every failure, up to a limit.
#pragma once

#include "dsp/units.h"

#include <algorithm>

namespace tripline::service {

class BackOff {
public:
    constexpr BackOff(Duration first, Duration longest) : first_(first), longest_(longest), next_(first) {}

    /// The wait after one more failure.
    constexpr Duration failed() {
        const Duration wait = next_;
        next_ = std::min(longest_, next_ * 2);
        return wait;
    }
    constexpr void worked() { next_ = first_; }

private:
    Duration first_;
    Duration longest_;
    Duration next_;
};

}  // namespace tripline::service
