#include "daemon/lines/release.h"

#include "daemon/lines/device.h"
#include "daemon/lines/sharing.h"

#include <algorithm>
#include <cerrno>

namespace tripline::lines {
namespace {

std::string read_back(Device& device, const Wire& wire) {
    const Reading reading = device.read(wire);
    if (!reading.outcome) return OpenError(wire, reading.outcome.error).what();
    if (reading.known && reading.active)
        return OpenError(wire, EIO, "it reads back active after it was driven to rest").what();
    return {};
}

/// Opens, which drives to rest, reads back what can be read, and closes.
void release(std::span<const Wire> wires, std::vector<Released>& released) {
    const std::unique_ptr<Device> device = open_device(wires);
    for (const Wire& wire : wires) released.push_back({wire.role, read_back(*device, wire)});
}

void release_alone(const Wire& wire, std::vector<Released>& released) {
    try {
        release(std::span(&wire, 1), released);
    } catch (const OpenError& error) {
        released.push_back({wire.role, error.what()});
    }
}

}  // namespace

std::vector<Released> release_all(const Wiring& wiring) {
    std::vector<Released> released;
    for (const Role role : all_roles) {
        const std::vector<Wire> wires = wires_from(wiring, role);
        if (wires.empty()) continue;
        try {
            release(wires, released);
        } catch (const OpenError&) {  // perhaps for the sake of one of them
            for (const Wire& wire : wires) release_alone(wire, released);
        }
    }
    return released;
}

bool all_at_rest(const std::vector<Released>& released) {
    return std::all_of(released.begin(), released.end(),
                       [](const Released& line) { return line.failure.empty(); });
}

}  // namespace tripline::lines
