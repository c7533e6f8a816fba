#include "daemon/lines/cm108_dongle.h"
#include "daemon/lines/device.h"
#include "daemon/lines/file_log.h"
#include "daemon/lines/gpio_chip.h"
#include "daemon/lines/serial_port.h"

#include <cerrno>

namespace tripline::lines {

std::unique_ptr<Device> open_device(std::span<const Wire> wires) {
    switch (wires[0].settings.kind) {
        case Kind::file: return std::make_unique<FileLog>(wires);
        case Kind::serial: return std::make_unique<SerialPort>(wires);
        case Kind::gpio: return std::make_unique<GpioChip>(wires);
        case Kind::cm108: return std::make_unique<Cm108Dongle>(wires);
        case Kind::none: break;
    }
    throw OpenError(wires[0], EINVAL, "the role is not wired");
}

}  // namespace tripline::lines
