// A serial port and a dongle that exist only for the test: the linker puts these in place
// of open, ioctl, write, tcgetattr and tcsetattr (-Wl,--wrap), for the names below.
#pragma once

#include <termios.h>

#include <array>
#include <map>
#include <string>
#include <vector>

namespace tripline::lines {

inline constexpr const char* fake_serial = "/dev/fake-serial";
inline constexpr const char* fake_dongle = "/dev/fake-hidraw";
inline constexpr const char* fake_dongle_link = "/dev/by-id/fake-hidraw";  ///< the same device

struct FakeHardware {
    int open_error = 0;
    int write_error = 0;
    int short_write = 0;                       ///< bytes a write takes when not 0
    std::map<unsigned long, int> ioctl_error;  ///< by request
    int stuck = 0;                             ///< modem bits that cannot be cleared
    int modem = 0;                             ///< modem bits now
    int opened = 0;
    int open_flags = 0;
    termios settings{};                        ///< kept when the port is closed, as Linux does
    std::vector<std::string> calls;            ///< what was asked of the hardware, in order
    std::vector<std::array<unsigned char, 5>> reports;  ///< written to the dongle
};

/// The hardware of the running test.
FakeHardware& hardware();
void plug_in_new_hardware();

}  // namespace tripline::lines
