// What a guard is told at its start, once and for all.
#pragma once

#include "daemon/guard/settings.h"
#include "daemon/lines/settings.h"
#include "daemon/station/settings.h"

#include <array>

namespace tripline::guard {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct Plan {
    lines::Wiring wiring;
    station::SequenceSettings steps;  ///< lead and lag times the guard keeps by itself
    Duration longest = 181s;          ///< longest transmission; a little over the station's own
    Duration silence = 250ms;         ///< no order for this long: release
    Duration alive_period = 100ms;    ///< of the square wave; each edge needs a new order
    int priority = 80;                ///< SCHED_FIFO priority asked for; 0: do not ask
    bool operator==(const Plan&) const = default;
};

/// The plan's times in the order of the command line; a plan may be const.
template <typename P>
auto times_of(P& plan) {
    auto& steps = plan.steps;
    return std::array{&plan.longest,      &plan.silence,      &plan.alive_period,
                      &steps.mute.lead,   &steps.mute.lag,    &steps.antenna.lead,
                      &steps.antenna.lag, &steps.ptt.lead,    &steps.ptt.lag,
                      &steps.settle};
}

/// Throws std::invalid_argument: longest 1 s to 2 h, silence 50 ms to 250 ms, alive_period
/// 100 ms to 1 s, lead, lag and settle 0 to 1 s, priority 0 to 99, pins in range.
void check(const Plan& plan);

inline Plan make_plan(const lines::Wiring& wiring, const station::Settings& station,
                      const Settings& settings) {
    Plan plan;
    plan.wiring = wiring;
    plan.steps = station.sequence;
    plan.longest = station.limits.longest_over + settings.margin;
    plan.alive_period = to_duration({1}, settings.alive);
    return plan;
}

}  // namespace tripline::guard
