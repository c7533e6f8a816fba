#include "daemon/service/supervisor.h"

#include "daemon/lines/descriptor.h"

#include <sys/socket.h>
#include <sys/un.h>
#include <systemd/sd-daemon.h>

#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

namespace tripline::service {

namespace {

constexpr std::size_t most_waiting = 4096;

/// False when the service manager's queue is full. Where there is nobody to tell, all is said.
bool send(std::string_view text) {
    const char* const named = std::getenv("NOTIFY_SOCKET");
    const std::string_view path(named == nullptr ? "" : named);
    sockaddr_un address{};
    address.sun_family = AF_UNIX;
    if (path.empty() || path.size() >= sizeof address.sun_path) return true;
    path.copy(address.sun_path, path.size());
    if (path.front() == '@') address.sun_path[0] = '\0';
    const auto size = static_cast<socklen_t>(offsetof(sockaddr_un, sun_path) + path.size());
    const lines::Descriptor socket(::socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0));
    const auto* const to = reinterpret_cast<const sockaddr*>(&address);
    return ::sendto(socket.get(), text.data(), text.size(), MSG_DONTWAIT | MSG_NOSIGNAL, to, size) >= 0 ||
           errno != EAGAIN;
}

}  // namespace

Supervisor::Supervisor() {
    std::uint64_t watchdog_us = 0;
    if (::sd_watchdog_enabled(0, &watchdog_us) > 0) feed_every_ = std::chrono::microseconds{watchdog_us / 4};
}

void Supervisor::ready() { tell("READY=1\n"); }

void Supervisor::status(const std::string& text) {
    if (text == status_) return;
    status_ = text;
    tell("STATUS=" + text + '\n');
}

void Supervisor::stopping() { tell("STOPPING=1\n"); }

void Supervisor::feed(Duration now) {
    if (!waiting_.empty()) tell({});
    if (feed_every_ == Duration{0} || now - fed_ < feed_every_) return;
    fed_ = now;
    tell("WATCHDOG=1\n");
}

void Supervisor::tell(const std::string& text) {
    if (!waiting_.empty() && send(waiting_)) waiting_.clear();
    if (waiting_.size() + text.size() <= most_waiting) waiting_ += text;
    if (!waiting_.empty() && send(waiting_)) waiting_.clear();
}

}  // namespace tripline::service
