// Interface 1 of libgpiod.
#include "daemon/lines/gpio_chip.h"

#include <gpiod.h>

#include <cerrno>

namespace tripline::lines {

void GpioChip::request(std::span<const Wire> wires) {
    // One by one: interface 1 cannot set a single line of several requested together.
    for (const Wire& wire : wires) {
        gpiod_line*& line = lines_[index(wire.role)];
        line = ::gpiod_chip_get_line(chip_, wire.settings.gpio_line);
        if (!line || ::gpiod_line_request_output(line, "tripline", wire.level(false)) < 0)
            throw OpenError(wire, errno);
    }
}

void GpioChip::close() noexcept { ::gpiod_chip_close(chip_); }

Outcome GpioChip::drive(const Wire& wire, bool active) noexcept {
    return {::gpiod_line_set_value(lines_[index(wire.role)], wire.level(active)) < 0 ? errno : 0};
}

Reading GpioChip::read(const Wire& wire) noexcept {
    const int value = ::gpiod_line_get_value(lines_[index(wire.role)]);
    return {{value < 0 ? errno : 0}, true, wire.level(true) == (value == 1)};
}

int GpioChip::descriptor() const noexcept { return -1; }

}  // namespace tripline::lines
