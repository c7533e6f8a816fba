#include "daemon/lines/serial_port.h"

#include "daemon/lines/hold.h"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <termios.h>

#include <cerrno>

namespace tripline::lines {
namespace {

int bit_of(const Wire& wire) noexcept {
    return wire.settings.serial_pin == SerialPin::rts ? TIOCM_RTS : TIOCM_DTR;
}

Outcome outcome_of(int result) noexcept { return {result < 0 ? errno : 0}; }

}  // namespace

SerialPort::SerialPort(std::span<const Wire> wires) {
    for (const Wire& wire : wires)
        if (wire.role == Role::ptt && !wire.settings.active_high)
            throw OpenError(wire, EINVAL, "an active-low key on a serial port closes whenever the "
                                          "port is not open: wire it active high");
    port_ = Descriptor(
        ::open(wires[0].settings.device.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC));
    if (!port_) throw OpenError(wires[0], errno);
    hold_alone(port_, wires[0]);  // TIOCEXCL does not keep root out
    if (const Outcome first = rest(wires); !first) throw OpenError(wires[0], first.error);
    if (const Outcome ready = set_up(); !ready) throw OpenError(wires[0], ready.error);
    // Speed 0 has cleared both lines; a line that rests high is set again.
    if (const Outcome second = rest(wires); !second) throw OpenError(wires[0], second.error);
}

Outcome SerialPort::rest(std::span<const Wire> wires) noexcept {
    int high = 0;
    for (const Wire& wire : wires)
        if (wire.level(false)) high |= bit_of(wire);
    const int low = (TIOCM_RTS | TIOCM_DTR) & ~high;
    if (const Outcome cleared = outcome_of(::ioctl(port_.get(), TIOCMBIC, &low)); !cleared)
        return cleared;
    return high == 0 ? Outcome{} : outcome_of(::ioctl(port_.get(), TIOCMBIS, &high));
}

Outcome SerialPort::set_up() noexcept {
    if (const Outcome alone = outcome_of(::ioctl(port_.get(), TIOCEXCL)); !alone) return alone;
    termios settings{};
    if (const Outcome got = outcome_of(::tcgetattr(port_.get(), &settings)); !got) return got;
    ::cfmakeraw(&settings);
    settings.c_cflag &= ~static_cast<tcflag_t>(CRTSCTS | CREAD);
    settings.c_cflag |= CLOCAL | HUPCL;
    ::cfsetospeed(&settings, B0);
    return outcome_of(::tcsetattr(port_.get(), TCSANOW, &settings));
}

Outcome SerialPort::drive(const Wire& wire, bool active) noexcept {
    const int bit = bit_of(wire);
    return outcome_of(::ioctl(port_.get(), wire.level(active) ? TIOCMBIS : TIOCMBIC, &bit));
}

Reading SerialPort::read(const Wire& wire) noexcept {
    int bits = 0;
    const Outcome outcome = outcome_of(::ioctl(port_.get(), TIOCMGET, &bits));
    const bool high = (bits & bit_of(wire)) != 0;
    return {outcome, true, wire.level(true) == high};
}

}  // namespace tripline::lines
