#include "daemon/lines/release.h"

#include "daemon/lines/device.h"
#include "daemon/lines/sharing.h"

#include <cerrno>

namespace tripline::lines {
namespace {

/// Opens, which drives to rest, reads back what can be read, and closes.
void release(std::span<const Wire> wires) {
    const std::unique_ptr<Device> device = open_device(wires);
    for (const Wire& wire : wires) {
        const Reading reading = device->read(wire);
        if (!reading.outcome) throw OpenError(wire, reading.outcome.error);
        if (reading.known && reading.active)
            throw OpenError(wire, EIO, "it reads back active after it was driven to rest");
    }
}

}  // namespace

std::vector<std::string> release_all(const Wiring& wiring) {
    std::vector<std::string> failures;
    for (const Role role : all_roles) {
        const std::vector<Wire> wires = wires_from(wiring, role);
        if (wires.empty()) continue;
        try {
            release(wires);
        } catch (const OpenError& error) {
            failures.emplace_back(error.what());
        }
    }
    return failures;
}

}  // namespace tripline::lines
