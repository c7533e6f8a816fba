#include "daemon/logbook/held_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <cerrno>
#include <cstring>
#include <stdexcept>

namespace tripline::logbook {

namespace {

/// Not so where its station has turned the log over since it was opened.
bool still_named(const lines::Descriptor& file, const std::string& path) {
    struct stat opened{}, now{};
    return ::fstat(file.get(), &opened) == 0 && ::stat(path.c_str(), &now) == 0 && opened.st_dev == now.st_dev &&
           opened.st_ino == now.st_ino;
}

}  // namespace

lines::Descriptor hold(const std::string& path) {
    const auto refuse = [&path](const std::string& why) { throw std::runtime_error(path + ": " + why); };
    struct stat is{};
    const bool there = ::stat(path.c_str(), &is) == 0;
    if (there && !S_ISREG(is.st_mode) && !S_ISCHR(is.st_mode)) refuse("is no regular file");
    lines::Descriptor file(::open(path.c_str(), O_WRONLY | O_APPEND | O_CREAT | O_CLOEXEC | O_NOCTTY | O_NONBLOCK, 0666));
    if (!file) refuse(std::string("cannot be written: ") + std::strerror(errno));
    if (there && S_ISCHR(is.st_mode)) return file;  // /dev/null: nothing is numbered there
    const bool alone = ::flock(file.get(), LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK;
    if (alone && still_named(file, path)) return file;
    refuse("another station writes this log; give each its own logbook.file");
    return file;
}

}  // namespace tripline::logbook
