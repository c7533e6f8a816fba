#include "daemon/lines/cm108_dongle.h"

#include "daemon/lines/hold.h"

#include <fcntl.h>
#include <linux/hidraw.h>
#include <sys/ioctl.h>

#include <cerrno>

namespace tripline::lines {
namespace {

unsigned char bit_of(const Wire& wire) noexcept {
    return static_cast<unsigned char>(1U << (wire.settings.cm108_pin - 1));
}

}  // namespace

Cm108Dongle::Cm108Dongle(std::span<const Wire> wires)
    : dongle_(::open(wires[0].settings.device.c_str(),
                     O_WRONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)) {
    if (!dongle_) throw OpenError(wires[0], errno);
    hidraw_devinfo about{};
    if (::ioctl(dongle_.get(), HIDIOCGRAWINFO, &about) < 0) throw OpenError(wires[0], ENOTTY);
    hold_alone(dongle_, wires[0]);
    for (const Wire& wire : wires) {
        outputs_ |= bit_of(wire);
        note(wire, false);
    }
    if (const Outcome rest = write_pins(); !rest) throw OpenError(wires[0], rest.error);
}

Outcome Cm108Dongle::drive(const Wire& wire, bool active) noexcept {
    note(wire, active);
    return write_pins();
}

void Cm108Dongle::note(const Wire& wire, bool active) noexcept {
    const unsigned others = levels_ & ~unsigned{bit_of(wire)};
    levels_ = static_cast<unsigned char>(others | (wire.level(active) ? bit_of(wire) : 0U));
}

Outcome Cm108Dongle::write_pins() noexcept {
    const unsigned char report[5] = {0, 0, levels_, outputs_, 0};
    const ssize_t written = ::write(dongle_.get(), report, sizeof report);
    if (written < 0) return {errno};
    return {written == sizeof report ? 0 : EIO};
}

}  // namespace tripline::lines
