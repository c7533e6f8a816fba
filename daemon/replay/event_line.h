// One event as one line of JSON.
#pragma once

#include "daemon/station/event.h"

#include <string>

namespace tripline::replay {

/// No newline at the end. All levels are in dBFS (AES17), to 0.1 dB; `margin_db` in dB.
/// The same fields, in the same order, in every line.
std::string event_line(const station::Event& event, Hertz rate);

}  // namespace tripline::replay
