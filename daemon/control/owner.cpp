#include "daemon/control/owner.h"

#include <pwd.h>
#include <sys/stat.h>
#include <unistd.h>

namespace tripline::control {

std::string whose(const std::string& path) {
    struct stat there{};
    if (::lstat(path.c_str(), &there) != 0 || there.st_uid == ::geteuid()) return {};
    const passwd* const user = ::getpwuid(there.st_uid);
    return "; it belongs to " + (user != nullptr ? std::string(user->pw_name) : "user " + std::to_string(there.st_uid));
}

}  // namespace tripline::control
