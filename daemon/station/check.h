// Refuses settings that the station could not run safely.
#pragma once

#include "daemon/station/settings.h"

namespace tripline::station {

/// Throws std::invalid_argument, naming the setting, for one out of the range that
/// settings.h states. The detector checks its own.
void check(const Settings& settings);

}  // namespace tripline::station
