#include "tests/lines/fake_hardware.h"

#include <fcntl.h>
#include <linux/hidraw.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdarg>
#include <cstring>
#include <set>

namespace tripline::lines {
namespace {

FakeHardware the_hardware;
std::set<int> fake_descriptors;

/// Every opening of a device is one of the same file: locks on it meet each other.
int open_behind(bool serial) {
    static const int ports[] = {::memfd_create("dongle", MFD_CLOEXEC), ::memfd_create("serial", MFD_CLOEXEC)};
    return static_cast<int>(::syscall(SYS_openat, AT_FDCWD, ("/proc/self/fd/" + std::to_string(ports[serial])).c_str(),
                     O_RDWR | O_CLOEXEC, 0));
}

int fail(int error) {
    errno = error;
    return -1;
}

std::string bits_text(int bits) {
    return std::string(bits & TIOCM_RTS ? "R" : "") + (bits & TIOCM_DTR ? "D" : "");
}

}  // namespace

FakeHardware& hardware() { return the_hardware; }

void plug_in_new_hardware() {
    the_hardware = {};
    ::cfsetospeed(&the_hardware.settings, B9600);
}

}  // namespace tripline::lines

using tripline::lines::fake_descriptors;
using tripline::lines::hardware;

extern "C" {

int __real_open(const char*, int, ...);
int __real_ioctl(int, unsigned long, ...);
ssize_t __real_write(int, const void*, size_t);
int __real_close(int);
int __real_tcgetattr(int, termios*);
int __real_tcsetattr(int, int, const termios*);

int __wrap_open(const char* path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const int mode = flags & O_CREAT ? va_arg(more, int) : 0;
    va_end(more);
    const bool serial = std::strcmp(path, tripline::lines::fake_serial) == 0;
    const bool dongle = std::strcmp(path, tripline::lines::fake_dongle) == 0 ||
                        std::strcmp(path, tripline::lines::fake_dongle_link) == 0;
    if (!serial && !dongle)
        return __real_open(path, flags, mode);
    if (hardware().open_error) return tripline::lines::fail(hardware().open_error);
    ++hardware().opened;
    hardware().open_flags = flags;
    // As tty_port_block_til_ready() of Linux: both lines rise unless the speed is 0.
    if (serial && ::cfgetospeed(&hardware().settings) != B0) hardware().modem = TIOCM_RTS | TIOCM_DTR;
    const int descriptor = tripline::lines::open_behind(serial);
    fake_descriptors.insert(descriptor);
    return descriptor;
}

int __wrap_close(int descriptor) {
    if (fake_descriptors.erase(descriptor) && (hardware().settings.c_cflag & HUPCL))
        hardware().modem = 0;
    return __real_close(descriptor);
}

int __wrap_ioctl(int descriptor, unsigned long request, ...) {
    va_list more;
    va_start(more, request);
    void* argument = va_arg(more, void*);
    va_end(more);
    if (!fake_descriptors.contains(descriptor)) return __real_ioctl(descriptor, request, argument);
    auto& it = hardware();
    if (const auto error = it.ioctl_error.find(request); error != it.ioctl_error.end())
        return tripline::lines::fail(error->second);
    int* bits = static_cast<int*>(argument);
    switch (request) {
        case TIOCMBIS:
            it.modem |= *bits;
            it.calls.push_back("set " + tripline::lines::bits_text(*bits));
            return 0;
        case TIOCMBIC:
            it.modem &= ~*bits | it.stuck;
            it.calls.push_back("clear " + tripline::lines::bits_text(*bits));
            return 0;
        case TIOCMGET: *bits = it.modem; return 0;
        case TIOCEXCL: it.calls.emplace_back("exclusive"); return 0;
        case HIDIOCGRAWINFO: return 0;
        default: return tripline::lines::fail(ENOTTY);
    }
}

ssize_t __wrap_write(int descriptor, const void* data, size_t size) {
    if (!fake_descriptors.contains(descriptor)) return __real_write(descriptor, data, size);
    auto& it = hardware();
    if (it.write_error) return tripline::lines::fail(it.write_error);
    auto& report = it.reports.emplace_back();
    std::memcpy(report.data(), data, std::min(size, report.size()));
    return it.short_write ? it.short_write : static_cast<ssize_t>(size);
}

int __wrap_tcgetattr(int descriptor, termios* settings) {
    if (!fake_descriptors.contains(descriptor)) return __real_tcgetattr(descriptor, settings);
    *settings = hardware().settings;
    return 0;
}

int __wrap_tcsetattr(int descriptor, int when, const termios* settings) {
    if (!fake_descriptors.contains(descriptor))
        return __real_tcsetattr(descriptor, when, settings);
    hardware().settings = *settings;
    if (::cfgetospeed(settings) == B0) hardware().modem = hardware().stuck;  // Linux hangs up
    hardware().calls.emplace_back("settings");
    return 0;
}

}  // extern "C"
