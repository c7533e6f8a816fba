#include "daemon/control/listener.h"

#include "daemon/control/owner.h"

#include <grp.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <stdexcept>

namespace tripline::control {

namespace {

[[noreturn]] void refuse(const std::string& path, const std::string& reason) {
    throw std::runtime_error(path + ": " + reason);
}

lines::Descriptor make_socket(const std::string& path) {
    lines::Descriptor made(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0));
    if (!made) refuse(path, std::strerror(errno));
    return made;
}

sockaddr_un address_of(const std::string& path) {
    sockaddr_un address{};
    address.sun_family = AF_UNIX;
    if (path.size() >= sizeof address.sun_path) refuse(path, "the path is too long for a socket");
    std::memcpy(address.sun_path, path.data(), path.size());
    return address;
}

/// Takes a file away at which nobody answers.
void clear_way(const std::string& path, const sockaddr_un& address) {
    struct stat there{};
    if (::lstat(path.c_str(), &there) != 0) return;
    if (!S_ISSOCK(there.st_mode)) refuse(path, "is there already, and is no socket");
    const lines::Descriptor probe = make_socket(path);
    const int connected = ::connect(probe.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address);
    if (connected == 0 || errno == EAGAIN) refuse(path, "another daemon answers there");
    const int error = errno;
    if (error != ECONNREFUSED) refuse(path, std::strerror(error) + (error == EACCES ? whose(path) : ""));
    if (::unlink(path.c_str()) != 0) refuse(path, std::strerror(errno));
}

/// For the group, when the file can be given to it.
void admit_group(const std::string& path) {
    const group* const tripline = ::getgrnam("tripline");
    if (tripline == nullptr) return;
    if (::chown(path.c_str(), static_cast<uid_t>(-1), tripline->gr_gid) != 0) return;
    if (::chmod(path.c_str(), 0660) != 0) refuse(path, std::strerror(errno));
}

}  // namespace

Listener::Listener(const std::string& path) : path_(path) {
    const sockaddr_un address = address_of(path);
    clear_way(path, address);
    socket_ = make_socket(path);
    ::fchmod(socket_.get(), 0600);  // of the file that bind() makes: never open to all, not for a moment
    if (::bind(socket_.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
        refuse(path, std::strerror(errno));
    }
    struct stat made{};
    if (::lstat(path.c_str(), &made) == 0) file_ = made.st_ino;
    admit_group(path);
    constexpr int waiting = 16;
    if (::listen(socket_.get(), waiting) != 0) refuse(path, std::strerror(errno));
}

Listener::~Listener() {
    struct stat there{};
    if (::lstat(path_.c_str(), &there) == 0 && there.st_ino == file_) ::unlink(path_.c_str());
}

lines::Descriptor Listener::accept() const {
    return lines::Descriptor(::accept4(socket_.get(), nullptr, nullptr, SOCK_CLOEXEC | SOCK_NONBLOCK));
}

}  // namespace tripline::control
