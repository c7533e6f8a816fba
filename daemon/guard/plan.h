// What a guard is told at its start, once and for all.
#pragma once

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
    Duration alive_period = 200ms;    ///< of the square wave; each edge needs a new order
    int priority = 80;                ///< SCHED_FIFO priority asked for; 0: do not ask
};

}  // namespace tripline::guard
