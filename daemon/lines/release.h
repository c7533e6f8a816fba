// Drives every line to rest when nobody else is left to do it.
#pragma once

#include "daemon/lines/settings.h"

#include <string>
#include <vector>

namespace tripline::lines {

/// Opens each device, drives its lines to rest and closes it again. A device that fails
/// does not keep the others from being released. Returns one text a device that failed:
/// role, device, cause, cure; empty when every line is at rest.
/// Opening a serial port may raise its lines for a moment: see the manual.
std::vector<std::string> release_all(const Wiring& wiring);

}  // namespace tripline::lines
