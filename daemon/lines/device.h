// A device that carries one line or several: a serial port, a GPIO chip, a dongle, a log.
#pragma once

#include "daemon/lines/outcome.h"
#include "daemon/lines/settings.h"

#include <memory>
#include <span>
#include <stdexcept>

namespace tripline::lines {

/// One role's wire on a device.
struct Wire {
    Role role = Role::ptt;
    LineSettings settings;

    /// Electrical level that makes the line active or lets it rest.
    bool level(bool active) const noexcept { return active == settings.active_high; }
};

/// Why a device could not be opened: which role, which path, the cause and the cure.
class OpenError : public std::runtime_error {
public:
    OpenError(const Wire& wire, int error);
    OpenError(const Wire& wire, int error, const std::string& explanation);
    int error;
};

/// Open from construction to destruction. Nothing here allocates, throws or waits on
/// purpose; a driver may make any call wait for its hardware.
class Device {
public:
    Device() = default;
    Device(const Device&) = delete;
    Device& operator=(const Device&) = delete;
    virtual ~Device() = default;

    virtual Outcome drive(const Wire& wire, bool active) noexcept = 0;
    virtual Reading read(const Wire& wire) noexcept = 0;
    /// Descriptor on which poll() tells POLLERR or POLLHUP when the device is gone; -1: none.
    virtual int descriptor() const noexcept = 0;
};

/// Opens the device that all `wires` share and drives each of them to rest.
/// Throws OpenError.
std::unique_ptr<Device> open_device(std::span<const Wire> wires);

}  // namespace tripline::lines
