// Which roles share a device.
#pragma once

#include "daemon/lines/device.h"
#include "daemon/lines/hold.h"

#include <vector>

namespace tripline::lines {

/// Whether two wires end at one pin of one device, or are one role in one log.
inline bool same_wire(const Wire& a, const Wire& b) {
    if (a.settings.kind != b.settings.kind || !same_device(a.settings.device, b.settings.device)) return false;
    switch (a.settings.kind) {
        case Kind::serial: return a.settings.serial_pin == b.settings.serial_pin;
        case Kind::gpio: return a.settings.gpio_line == b.settings.gpio_line;
        case Kind::cm108: return a.settings.cm108_pin == b.settings.cm108_pin;
        default: return a.role == b.role;
    }
}

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
