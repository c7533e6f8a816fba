#include "daemon/service/state_lock.h"

#include <fcntl.h>
#include <sys/file.h>

#include <cerrno>
#include <stdexcept>

namespace tripline::service {

StateLock::StateLock(const std::string& folder) {
    if (folder.empty()) return;
    file_ = lines::Descriptor(::open((folder + "/in-use").c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0640));
    if (file_ && ::flock(file_.get(), LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
        throw std::runtime_error(folder + ": another daemon of this station runs with this state folder; stop it first");
}

}  // namespace tripline::service
