// Drives every line to rest when nobody else is left to do it.
#pragma once

#include "daemon/lines/settings.h"

#include <string>
#include <vector>

namespace tripline::lines {

/// What became of one wired role.
struct Released {
    Role role = Role::ptt;
    std::string failure;  ///< role, device, cause, cure; empty: the line is at rest
};

/// Opens each device, drives its lines to rest and closes it again. A device that fails does
/// not keep the others from being released, nor does a line the others of its device. One
/// entry a wired role, in the order of the devices.
/// Opening a serial port may raise its lines for a moment: see the manual.
std::vector<Released> release_all(const Wiring& wiring);

bool all_at_rest(const std::vector<Released>& released);

}  // namespace tripline::lines
