// Rules of the wires.
#include "config/line_device.h"

namespace tripline::config {
namespace {

using lines::Kind;
using lines::Role;

std::string table_of(Role role) { return "line." + std::string(name(role)); }

std::string key_of(Role role, std::string_view leaf) {
    return table_of(role) + '.' + std::string(leaf);
}

void check_wire(const Settings& s, Role role, Findings& found) {
    const auto& wire = line(s, role);
    const auto kind = key_of(role, "kind");
    const auto device = key_of(role, "device");
    const auto pin = key_of(role, "pin");
    if (wire.kind != Kind::none && wire.device.empty()) {
        found.error({kind, device}, "needs " + device, "the path of the file or device");
    }
    for (const auto& written : {device, pin, key_of(role, "active")}) {
        if (found.given(kind) || found.meant(kind) || !found.given(written)) continue;
        found.error({written, kind}, "needs " + kind + ", without which the line is not wired", "\"file\", \"serial\", \"gpio\", \"cm108\"");
        return;
    }
    if (wire.kind == Kind::none && !wire.device.empty()) {
        found.note({device, kind}, "not used: " + kind + " is \"none\"");
    }
    if (wire.kind == Kind::gpio && !found.given(pin)) {
        found.error({kind, pin}, "needs " + pin, "0 to 1023");
    }
    if (role == Role::ptt && wire.kind == Kind::serial && !wire.active_high) {
        found.error({key_of(role, "active"), kind},
                    "a key on a serial port that is active low closes whenever the port is not open",
                    "\"high\"");
    }
    check_line_device(wire, table_of(role), found);
}

bool same_pin(const lines::LineSettings& a, const lines::LineSettings& b) {
    if (a.kind != b.kind || a.device != b.device) return false;
    switch (a.kind) {
        case Kind::serial: return a.serial_pin == b.serial_pin;
        case Kind::gpio: return a.gpio_line == b.gpio_line;
        case Kind::cm108: return a.cm108_pin == b.cm108_pin;
        case Kind::none:
        case Kind::file: break;  // roles may share a log
    }
    return false;
}

}  // namespace

void check_lines(const Settings& s, Findings& found) {
    for (const auto role : lines::all_roles) {
        check_wire(s, role, found);
        for (const auto other : lines::all_roles) {
            if (other >= role || !same_pin(line(s, role), line(s, other))) continue;
            const auto pin = found.given(key_of(role, "pin")) ? "pin" : "device";
            found.error({key_of(role, pin), key_of(role, "kind"), key_of(other, "pin"),
                         key_of(other, "device")},
                        "is the pin of " + table_of(other), "a pin of its own");
        }
    }
}

}  // namespace tripline::config
