// Drives every line to rest when nobody else is left to do it.
#pragma once

#include "daemon/lines/bank.h"

#include <string>
#include <vector>

namespace tripline::lines {

/// What became of one wire.
struct Released {
    Wire wire;
    std::string failure;  ///< role, device, cause, cure; empty: the line is at rest
};

/// Opens the devices, which drives their lines to rest, reads back what can be read, and closes
/// them: ptt, antenna, mute, alive, with the pauses between. Roles that share a device come to
/// rest together; of several wires of one role each is released. A device that fails does not
/// keep the others from being released, nor does a line the others of its device. One that is
/// held, by a guard that is just releasing it, is tried again for `patience` in all. One entry a
/// wire, in that order.
/// Opening a serial port may raise its lines for a moment: see the manual.
std::vector<Released> release_all(std::vector<Wire> wires, const RestPauses& pauses = {},
                                  std::chrono::milliseconds patience = {});

/// The wires of a wiring.
std::vector<Wire> wires_of(const Wiring& wiring);

bool all_at_rest(const std::vector<Released>& released);

}  // namespace tripline::lines
