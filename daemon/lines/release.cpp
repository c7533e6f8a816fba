#include "daemon/lines/release.h"

#include "daemon/lines/device.h"
#include "daemon/lines/sharing.h"

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <thread>

namespace tripline::lines {
namespace {

std::string read_back(Device& device, const Wire& wire) {
    const Reading reading = device.read(wire);
    if (!reading.outcome) return OpenError(wire, reading.outcome.error).what();
    if (reading.known && reading.active)
        return OpenError(wire, EIO, "it reads back active after it was driven to rest").what();
    return {};
}

class Releasing {
public:
    using Clock = std::chrono::steady_clock;
    explicit Releasing(Clock::time_point patient_until) : patient_until_(patient_until) {}

    void release(std::span<const Wire> wires) {
        try {
            const std::unique_ptr<Device> device = open(wires);
            for (const Wire& wire : wires) released_.push_back({wire, read_back(*device, wire)});
        } catch (const OpenError& error) {
            if (wires.size() == 1) released_.push_back({wires[0], error.what()});
            else for (const Wire& wire : wires) release(std::span(&wire, 1));  // perhaps for the sake of one of them
        }
    }
    std::vector<Released> released() && { return std::move(released_); }

private:
    std::unique_ptr<Device> open(std::span<const Wire> wires) const {
        while (true) try {
            return open_device(wires);
        } catch (const OpenError& error) {
            if (error.error != EBUSY || Clock::now() >= patient_until_) throw;
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
    }

    Clock::time_point patient_until_;
    std::vector<Released> released_;
};

/// Takes from `wires` the first one's and all others on its device.
std::vector<Wire> take_device(std::vector<Wire>& wires) {
    const Wire first = wires.front();
    const auto rest = std::stable_partition(wires.begin(), wires.end(), [&](const Wire& wire) {
        return wire.settings.kind == first.settings.kind && same_device(wire.settings.device, first.settings.device);
    });
    const std::vector<Wire> taken(wires.begin(), rest);
    wires.erase(wires.begin(), rest);
    return taken;
}

}  // namespace

std::vector<Released> release_all(std::vector<Wire> wires, const RestPauses& pauses,
                                  std::chrono::milliseconds patience) {
    Releasing releasing(Releasing::Clock::now() + patience);
    for (const Role role : rest_order) {
        bool any = false;
        const auto of_role = [&](const Wire& wire) { return wire.role == role; };
        while (std::stable_partition(wires.begin(), wires.end(), of_role) != wires.begin()) {
            releasing.release(take_device(wires));
            any = true;
        }
        if (any) pause_after(role, pauses);
    }
    return std::move(releasing).released();
}

std::vector<Wire> wires_of(const Wiring& wiring) {
    std::vector<Wire> wires;
    for (const Role role : all_roles)
        if (wired(wiring, role)) wires.push_back({role, wiring[index(role)]});
    return wires;
}

bool all_at_rest(const std::vector<Released>& released) {
    return std::all_of(released.begin(), released.end(),
                       [](const Released& line) { return line.failure.empty(); });
}

}  // namespace tripline::lines
