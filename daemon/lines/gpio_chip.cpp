// What both interfaces of libgpiod do alike.
#include "daemon/lines/gpio_chip.h"

#include <gpiod.h>

#include <cerrno>

namespace tripline::lines {

GpioChip::GpioChip(std::span<const Wire> wires)
    : chip_(::gpiod_chip_open(wires[0].settings.device.c_str())) {
    if (!chip_) throw OpenError(wires[0], errno);
    try {
        request(wires);
    } catch (const OpenError&) {
        close();
        throw;
    }
}

GpioChip::~GpioChip() { close(); }

}  // namespace tripline::lines
