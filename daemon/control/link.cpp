#include "daemon/control/link.h"

#include "daemon/control/owner.h"

#include <poll.h>
#include <sys/socket.h>
#include <sys/un.h>

#include <array>
#include <cerrno>
#include <cstring>

namespace tripline::control {

namespace {

[[noreturn]] void nobody(const std::string& path) {
    const int error = errno;
    std::string text = path + ": " + std::strerror(error);
    if (error == EACCES) text += whose(path) + "; the operator has to be in the group tripline";
    if (error == ENOENT || error == ECONNREFUSED)
        text += "; is the daemon running, and is control.socket this path? Where the daemon could not have its socket, its log, its page and systemctl status say so";
    if (error == EAGAIN) text = path + ": whoever listens there takes no connection: a station that stands still?";
    throw NoLink(text, error == EAGAIN);
}

Duration now_steady() { return std::chrono::steady_clock::now().time_since_epoch(); }

/// Of connect() and send().
void limit_waiting(int socket, Duration patience) {
    const auto whole = std::chrono::floor<std::chrono::seconds>(patience);
    const timeval longest{.tv_sec = whole.count(), .tv_usec = std::chrono::ceil<std::chrono::microseconds>(patience - whole).count()};
    ::setsockopt(socket, SOL_SOCKET, SO_SNDTIMEO, &longest, sizeof longest);
}

}  // namespace

Link::Link(const std::string& path, Duration patience) : socket_(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_un address{};
    address.sun_family = AF_UNIX;
    if (path.size() >= sizeof address.sun_path) throw NoLink(path + ": is too long for a socket", false);
    std::memcpy(address.sun_path, path.data(), path.size());
    limit_waiting(socket_.get(), patience);
    const auto* const to = reinterpret_cast<const sockaddr*>(&address);
    if (!socket_ || ::connect(socket_.get(), to, sizeof address) != 0) nobody(path);
}

void Link::say(const std::string& line) const {
    const std::string whole = line + '\n';
    const ssize_t sent = ::send(socket_.get(), whole.data(), whole.size(), MSG_NOSIGNAL);
    if (sent != static_cast<ssize_t>(whole.size())) throw std::runtime_error("the daemon has gone");
}

std::optional<std::string> Link::hear(Duration within) {
    const Duration until = now_steady() + within;
    auto end = heard_.find('\n');
    while (end == std::string::npos) {
        const Duration left = until - now_steady();
        if (left < Duration{0} || !receive(left)) return std::nullopt;
        end = heard_.find('\n');
    }
    std::string line = heard_.substr(0, end);
    heard_.erase(0, end + 1);
    return line;
}

int Link::process() const {
    ucred peer{};
    socklen_t size = sizeof peer;
    return ::getsockopt(socket_.get(), SOL_SOCKET, SO_PEERCRED, &peer, &size) == 0 ? peer.pid : 0;
}

bool Link::receive(Duration within) {
    pollfd waiting{.fd = socket_.get(), .events = POLLIN, .revents = 0};
    const auto ms = std::chrono::ceil<std::chrono::milliseconds>(within).count();
    if (::poll(&waiting, 1, static_cast<int>(ms)) <= 0) return false;
    std::array<char, 16384> part{};
    const ssize_t got = ::recv(socket_.get(), part.data(), part.size(), 0);
    if (got <= 0) throw std::runtime_error("the daemon has gone");
    heard_.append(part.data(), static_cast<std::size_t>(got));
    return true;
}

}  // namespace tripline::control
