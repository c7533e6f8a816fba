// RTS and DTR of a serial port as lines.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/lines/device.h"

namespace tripline::lines {

/// Exclusive; both modem lines go to rest at once, and fall when the port is closed
/// (HUPCL), however the process ends. Speed 0 is left behind: Linux raises DTR and RTS
/// at the next open only where the speed is not 0 (drivers/tty/tty_port.c,
/// tty_port_block_til_ready). CLOCAL: a falling carrier does not hang the port up.
class SerialPort final : public Device {
public:
    explicit SerialPort(std::span<const Wire> wires);
    Outcome drive(const Wire& wire, bool active) noexcept override;
    Reading read(const Wire& wire) noexcept override;
    int descriptor() const noexcept override { return port_.get(); }

private:
    Outcome rest(std::span<const Wire> wires) noexcept;
    Outcome set_up() noexcept;

    Descriptor port_;
};

}  // namespace tripline::lines
