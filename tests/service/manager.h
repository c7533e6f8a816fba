// The service manager's end of sd_notify(3).
#pragma once

#include "daemon/lines/descriptor.h"
#include "tests/temporary_folder.h"

#include <sys/socket.h>
#include <sys/un.h>

#include <cstdlib>
#include <stdexcept>
#include <string>

namespace tripline::service {

/// Programs started and parts made while it lives tell it what they have to tell.
class Manager {
public:
    Manager() : socket_(::socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0)) {
        const std::string path = (folder_.path() / "notify").string();
        sockaddr_un address{};
        address.sun_family = AF_UNIX;
        path.copy(address.sun_path, path.size());
        if (::bind(socket_.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) throw std::runtime_error(path);
        ::setenv("NOTIFY_SOCKET", path.c_str(), 1);
    }
    ~Manager() { ::unsetenv("NOTIFY_SOCKET"); }

    /// Everything that waits.
    std::string read() const {
        std::string all;
        char text[8192];
        for (ssize_t got = 0; (got = ::recv(socket_.get(), text, sizeof text, 0)) > 0;) all.append(text, static_cast<std::size_t>(got));
        return all;
    }

private:
    TemporaryFolder folder_;
    lines::Descriptor socket_;
};

}  // namespace tripline::service
