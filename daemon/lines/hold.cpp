#include "daemon/lines/hold.h"

#include <sys/file.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>

#include <cerrno>
#include <cstdio>
#include <fstream>

namespace tripline::lines {
namespace {

/// Process that has a lock on the file of `status`, by /proc/locks (see proc_locks(5)); 0:
/// unknown.
int holder_of(const struct stat& status) {
    std::ifstream locks("/proc/locks");
    for (std::string line; std::getline(locks, line);) {
        int process = 0;
        unsigned major = 0, minor = 0;
        unsigned long long inode = 0;
        if (std::sscanf(line.c_str(), "%*d: FLOCK %*s %*s %d %x:%x:%llu", &process, &major, &minor, &inode) == 4 &&
            inode == status.st_ino && major == ::major(status.st_dev) && minor == ::minor(status.st_dev))
            return process;
    }
    return 0;
}

std::string name_of(int process) {
    std::string name;
    std::ifstream in("/proc/" + std::to_string(process) + "/comm");
    return std::getline(in, name) ? " (" + name + ")" : name;
}

}  // namespace

void hold_alone(const Descriptor& device, const Wire& wire) {
    if (::flock(device.get(), LOCK_EX | LOCK_NB) == 0) return;
    const int error = errno == EWOULDBLOCK ? EBUSY : errno;
    struct stat status{};
    const int holder = error == EBUSY && ::fstat(device.get(), &status) == 0 ? holder_of(status) : 0;
    if (holder <= 0) throw OpenError(wire, error);
    throw OpenError(wire, error, "held by process " + std::to_string(holder) + name_of(holder) +
                                     ": stop that one first");
}

bool same_device(const std::string& a, const std::string& b) {
    if (a == b) return true;
    struct stat one{}, other{};
    if (::stat(a.c_str(), &one) != 0 || ::stat(b.c_str(), &other) != 0) return false;
    if (S_ISCHR(one.st_mode) && S_ISCHR(other.st_mode)) return one.st_rdev == other.st_rdev;
    return one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

}  // namespace tripline::lines
