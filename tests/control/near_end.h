// A client of the control socket, for tests: one line out, one line in.
#pragma once

#include "daemon/lines/descriptor.h"

#include <poll.h>
#include <sys/socket.h>
#include <sys/un.h>

#include <chrono>
#include <cstring>
#include <string>

namespace tripline::control {

class NearEnd {
public:
    /// Waits until something answers there, at most 5 s.
    explicit NearEnd(const std::string& path) : NearEnd(path, Later{}) {
        for (int i = 0; i < 500 && !connect(); ++i) ::poll(nullptr, 0, 10);
    }
    /// Has its descriptor, and does not connect yet.
    struct Later {};
    NearEnd(const std::string& path, Later /*yet*/) : socket_(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
        address_.sun_family = AF_UNIX;
        std::memcpy(address_.sun_path, path.data(), std::min(path.size(), sizeof address_.sun_path - 1));
    }
    bool connect() {
        connected_ = connected_ || ::connect(socket_.get(), reinterpret_cast<sockaddr*>(&address_), sizeof address_) == 0;
        return connected_;
    }
    bool connected() const { return connected_; }

    /// False: the other end has gone.
    bool say(const std::string& bytes) const {
        return ::send(socket_.get(), bytes.data(), bytes.size(), MSG_NOSIGNAL) == static_cast<ssize_t>(bytes.size());
    }
    /// The next line that holds `text`; empty: none in time, or the end.
    std::string hear(const std::string& text, int within_ms = 5000) {
        const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(within_ms);
        while (true) {
            for (auto end = heard_.find('\n'); end != std::string::npos; end = heard_.find('\n')) {
                const std::string line = heard_.substr(0, end);
                heard_.erase(0, end + 1);
                if (line.find(text) != std::string::npos) return line;
            }
            const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(until - std::chrono::steady_clock::now());
            if (left.count() <= 0 || !more(static_cast<int>(left.count()))) return {};
        }
    }
    std::string ask(const std::string& line) {
        return say(line + "\n") ? hear("\"ok\"") : std::string();
    }
    /// The daemon has ended the connection.
    bool ended(int within_ms = 5000) {
        hear("\x01", within_ms);
        return ended_;
    }

private:
    bool more(int within_ms) {
        pollfd waiting{.fd = socket_.get(), .events = POLLIN, .revents = 0};
        if (::poll(&waiting, 1, within_ms) != 1) return false;
        char part[4096];
        const ssize_t got = ::recv(socket_.get(), part, sizeof part, 0);
        ended_ = got <= 0;
        if (got > 0) heard_.append(part, static_cast<std::size_t>(got));
        return got > 0;
    }

    sockaddr_un address_{};
    lines::Descriptor socket_;
    std::string heard_;
    bool connected_ = false;
    bool ended_ = false;
};

}  // namespace tripline::control
