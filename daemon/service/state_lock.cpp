#include "daemon/service/state_lock.h"

#include <fcntl.h>
#include <sys/file.h>

#include <cerrno>
#include <cstring>
#include <stdexcept>

namespace tripline::service {

StateLock::StateLock(const std::string& folder) {
    if (folder.empty()) return;
    const std::string name = folder + "/in-use";
    file_ = lines::Descriptor(::open(name.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0640));
    if (file_ && ::flock(file_.get(), LOCK_EX | LOCK_NB) == 0) return;
    const int error = errno;
    if (file_ && error == EWOULDBLOCK)
        throw std::runtime_error(folder + ": another daemon of this station runs with this state folder; stop it first");
    failure_ = name + ": " + std::strerror(error);
}

}  // namespace tripline::service
