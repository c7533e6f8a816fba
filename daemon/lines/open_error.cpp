#include "daemon/lines/device.h"

#include <cerrno>
#include <cstring>

namespace tripline::lines {
namespace {

const char* cure(Kind kind, int error) {
    const bool serial = kind == Kind::serial;
    switch (error) {
        case ENOENT:
            return kind == Kind::file ? "its folder does not exist"
                   : serial           ? "is the adapter plugged in? names in /dev/serial/by-id stay the same"
                                      : "is the device plugged in, and its driver loaded?";
        case ENODEV:
        case ENXIO: return "the driver finds no hardware behind this name";
        case EACCES:
        case EPERM:
            return serial ? "add the user to group dialout, or install the udev rule"
                          : "install the udev rule, or give the user's group access";
        case EBUSY: return "another program, or another guard, holds it: stop that one first";
        case ENOTTY:
            return serial ? "it is no serial port, or one without modem lines: choose another"
                          : "it is not a device of this kind: check the name";
        case ENOSPC:
        case EROFS: return "nothing can be written there: choose another place";
        default: return "check the device's name and the kernel's log";
    }
}

std::string describe(const Wire& wire, int error, const std::string& explanation) {
    return std::string(name(wire.role)) + ": " + std::string(name(wire.settings.kind)) + " " +
           wire.settings.device + ": " + std::strerror(error) + " (" + explanation + ")";
}

}  // namespace

OpenError::OpenError(const Wire& wire, int code)
    : OpenError(wire, code, cure(wire.settings.kind, code)) {}

OpenError::OpenError(const Wire& wire, int code, const std::string& explanation)
    : std::runtime_error(describe(wire, code, explanation)), error(code) {}

}  // namespace tripline::lines
