// Which wire serves which role.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tripline::lines {

enum class Role : std::uint8_t { ptt, mute, antenna, alive };
inline constexpr std::array all_roles{Role::ptt, Role::mute, Role::antenna, Role::alive};

constexpr std::string_view name(Role role) {
    constexpr std::array<std::string_view, all_roles.size()> names{"ptt", "mute", "antenna", "alive"};
    return names[static_cast<std::size_t>(role)];
}

enum class Kind : std::uint8_t {
    none,    ///< the role is not wired
    file,    ///< a timestamped log; needs no hardware
    serial,  ///< RTS or DTR of a serial port
    gpio,    ///< a line of a GPIO chip
    cm108,   ///< a pin of a CM108-class USB dongle, through hidraw
};

inline constexpr std::array all_kinds{Kind::none, Kind::file, Kind::serial, Kind::gpio, Kind::cm108};

constexpr std::string_view name(Kind kind) {
    constexpr std::array<std::string_view, all_kinds.size()> names{"none", "file", "serial", "gpio",
                                                                   "cm108"};
    return names[static_cast<std::size_t>(kind)];
}

enum class SerialPin : std::uint8_t { rts, dtr };

struct LineSettings {
    Kind kind = Kind::none;
    std::string device;              ///< path: log file, /dev/tty*, /dev/gpiochip*, /dev/hidraw*
    SerialPin serial_pin = SerialPin::rts;
    unsigned gpio_line = 0;          ///< offset on the chip
    unsigned cm108_pin = 3;          ///< GPIO 1 to 8 of the dongle; 3 is the usual one
    bool active_high = true;
    bool operator==(const LineSettings&) const = default;
};

/// One entry a role, indexed by Role.
using Wiring = std::array<LineSettings, all_roles.size()>;

constexpr std::size_t index(Role role) { return static_cast<std::size_t>(role); }

inline bool wired(const Wiring& wiring, Role role) {
    return wiring[index(role)].kind != Kind::none;
}

}  // namespace tripline::lines
