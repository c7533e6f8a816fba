// What was set while running, into the settings file.
#pragma once

#include "daemon/control/desk.h"

namespace tripline::control {

/// Any thread but the service's. Reads and writes the file, so it may wait for the disk.
Outcome save(Desk& desk, const std::string& by);

}  // namespace tripline::control
