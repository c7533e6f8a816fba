// One connection to the control socket. For the server's thread.
#pragma once

#include "daemon/control/allowance.h"
#include "daemon/control/limits.h"
#include "daemon/control/line_reader.h"
#include "daemon/lines/descriptor.h"

#include <cstdint>
#include <optional>
#include <string>

namespace tripline::control {

class Client {
public:
    Client(lines::Descriptor socket, Duration now) : heard_(now), socket_(std::move(socket)) {}

    int descriptor() const noexcept { return socket_.get(); }
    bool gone() const noexcept { return gone_; }
    bool writes_wait() const noexcept { return !unsent_.empty(); }
    /// When it last said something.
    Duration heard() const noexcept { return heard_; }

    /// Reads what has come, at most a few lines' worth.
    void receive(Duration now);
    /// The next line within its allowance; a flood or a line too long ends the connection.
    std::optional<std::string> next_line(Duration now);
    /// A line to it. One that reads too slowly is dropped.
    void say(const std::string& line);
    /// Sends what waits, as far as it goes.
    void send();
    /// The last words, then the end.
    void dismiss(const std::string& line);
    /// A line that is no request; after too many the end.
    void count_mistake();

    bool wants_levels = false;
    bool wants_events = false;
    std::uint64_t levels_seen = 0;
    std::uint64_t events_seen = 0;

private:
    Duration heard_;
    lines::Descriptor socket_;
    LineReader reader_;
    Allowance lines_{lines_a_second, lines_at_once};
    std::string unsent_;
    int mistakes_ = 0;
    bool gone_ = false;
};

}  // namespace tripline::control
