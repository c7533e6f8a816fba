// How long the machine has slept, by two clocks of which only one goes on meanwhile.
#pragma once

#include "dsp/units.h"

#include <algorithm>

namespace tripline::service {

/// For one thread. The clocks are read one after the other, and whoever reads them may be kept waiting in between: that
/// is no sleep.
class SleptTime {
public:
    /// `with_sleep` has to be read first. A delay before `awake` is read makes the difference too small, never too
    /// great, and a sleep that it hides is seen at the next look.
    Duration told_by(Duration with_sleep, Duration awake) noexcept { return most_ = std::max(most_, with_sleep - awake); }

private:
    Duration most_{0};
};

}  // namespace tripline::service
