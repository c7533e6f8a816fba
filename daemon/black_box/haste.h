// How much time is left to write captures in, once the daemon ends.
#pragma once

#include "dsp/units.h"

#include <atomic>
#include <chrono>
#include <limits>
#include <stdexcept>

namespace tripline::black_box {

/// Any thread.
class Haste {
public:
    /// From now on what can be done without is left out, and after so long all is given up.
    void hurry(Duration left) noexcept { until_.store((now() + left).count()); }
    bool hurried() const noexcept { return until_.load() != never; }
    /// Throws once all is to be given up.
    void check() const {
        if (now().count() >= until_.load()) throw std::runtime_error("the daemon stopped before all of it was written");
    }

private:
    static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();
    static Duration now() noexcept { return std::chrono::steady_clock::now().time_since_epoch(); }

    std::atomic<std::int64_t> until_{never};  // nanoseconds of the steady clock
};

}  // namespace tripline::black_box
