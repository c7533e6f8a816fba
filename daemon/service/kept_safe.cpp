#include "daemon/service/kept_safe.h"

#include "daemon/lines/descriptor.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace tripline::service {
namespace {

bool create(const std::string& path) {
    const lines::Descriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0640));
    return bool(file) && ::fsync(file.get()) == 0;
}

bool remove(const std::string& path) { return ::unlink(path.c_str()) == 0 || errno == ENOENT; }

bool settle(const std::string& path) {
    const std::string folder = path.substr(0, path.rfind('/'));
    const lines::Descriptor opened(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    return bool(opened) && ::fsync(opened.get()) == 0;
}

}  // namespace

KeptSafe::KeptSafe(const std::string& folder)
    : path_(folder.empty() ? folder : folder + "/safe"),
      kept_(!path_.empty() && ::access(path_.c_str(), F_OK) == 0),
      now_(kept_) {}

std::string KeptSafe::keep(bool safe) {
    if (path_.empty() || now_ == safe) return {};
    const bool done = (safe ? create(path_) : remove(path_)) && settle(path_);
    const int error = errno;
    now_ = done ? std::optional(safe) : std::nullopt;
    return done ? std::string() : path_ + ": " + std::strerror(error);
}

}  // namespace tripline::service
