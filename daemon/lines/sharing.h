// Which roles share a device.
#pragma once

#include "daemon/lines/device.h"
#include "daemon/lines/hold.h"

#include <vector>

namespace tripline::lines {

/// All wires on the device of `role`; empty if the role is not wired.
inline std::vector<Wire> wires_beside(const Wiring& wiring, Role role) {
    std::vector<Wire> wires;
    const LineSettings& own = wiring[index(role)];
    if (own.kind == Kind::none) return wires;
    for (const Role other : all_roles)
        if (wiring[index(other)].kind == own.kind &&
            same_device(wiring[index(other)].device, own.device))
            wires.push_back({other, wiring[index(other)]});
    return wires;
}

/// The same, but only for the first role of each device: walking all roles meets each
/// device once.
inline std::vector<Wire> wires_from(const Wiring& wiring, Role role) {
    std::vector<Wire> wires = wires_beside(wiring, role);
    if (!wires.empty() && wires[0].role != role) wires.clear();
    return wires;
}

}  // namespace tripline::lines
