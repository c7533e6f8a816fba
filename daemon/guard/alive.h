// The square wave for an external interlock. Each edge is paid for with a new sound
// order, so it stops within one period when anything before it stops.
#pragma once

#include "daemon/guard/judge.h"

namespace tripline::guard {

class Alive {
public:
    explicit Alive(Duration period) noexcept : half_(period / 2) {}

    void paid() noexcept { paid_ = true; }

    /// Level of the line now; at rest unless the condition is good.
    bool next(bool good, Instant now) noexcept {
        if (!good) return level_ = paid_ = false;
        if (!paid_ || now < edge_) return level_;
        paid_ = false;
        edge_ = now + half_;
        return level_ = !level_;
    }

    Instant due() const noexcept { return paid_ ? edge_ : Instant::max(); }

private:
    Duration half_;
    Instant edge_{};
    bool paid_ = false;
    bool level_ = false;
};

}  // namespace tripline::guard
