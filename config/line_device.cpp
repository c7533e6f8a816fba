#include "config/line_device.h"

#include <algorithm>
#include <array>

namespace tripline::config {
namespace {

using lines::Kind;

/// The one place under /dev for files.
bool takes_a_log(std::string_view path) { return path.starts_with("/dev/shm/"); }

/// Numbered in the order in which devices were plugged in.
bool may_change(std::string_view path) {
    constexpr std::array names{"/dev/ttyUSB", "/dev/ttyACM", "/dev/hidraw"};
    return std::any_of(names.begin(), names.end(),
                       [&](std::string_view name) { return path.starts_with(name); });
}

}  // namespace

void check_line_device(const lines::LineSettings& wire, const std::string& table, Findings& found) {
    const std::string_view path = wire.device;
    if (wire.kind == Kind::none || path.empty()) return;
    const std::vector<std::string> keys{table + ".device", table + ".kind"};
    const auto kind = std::string(name(wire.kind));
    if (wire.kind == Kind::file) {
        if (path.starts_with("/dev/") && !takes_a_log(path))
            found.error(keys, "is a device, and a line of kind \"file\" is a log", "the path of a file");
        return;
    }
    if (!path.starts_with('/')) {
        found.error(keys, "is not a whole path", "the path of a " + kind + " device, from / on");
    } else if (wire.kind == Kind::cm108 && !path.starts_with("/dev/")) {
        found.error(keys, "is no device", "/dev/hidraw*, or a link to it under /dev");
    } else if (may_change(path)) {
        const bool serial = wire.kind == Kind::serial;
        found.note(keys, std::string("this name may be another device's after the next start; take ") +
                             (serial ? "one under /dev/serial/by-id" : "a link made by a udev rule") +
                             ", see the manual");
    }
}

}  // namespace tripline::config
