// What a guard is told at its start, once and for all.
#pragma once

#include "daemon/guard/settings.h"
#include "daemon/lines/settings.h"
#include "daemon/station/settings.h"

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
