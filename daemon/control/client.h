// One connection to the control socket. For the server's thread.
#pragma once

#include "daemon/control/allowance.h"
#include "daemon/control/desk.h"
#include "daemon/control/limits.h"
#include "daemon/control/line_reader.h"
#include "daemon/lines/descriptor.h"

#include <cstdint>
#include <future>
#include <optional>
#include <string>

namespace tripline::control {

class Client {
public:
    Client(lines::Descriptor socket, Duration now) : heard_(now), socket_(std::move(socket)) {}

    int descriptor() const noexcept { return socket_.get(); }
    /// Dropped for its manners: what it has still said is not heard.
    bool dismissed() const noexcept { return dismissed_; }
    bool gone() const noexcept { return dismissed_ || left_; }
    bool writes_wait() const noexcept { return !unsent_.empty(); }
    bool spoke() const noexcept { return spoke_; }
    /// When it last said something, or came.
    Duration heard() const noexcept { return heard_; }

    /// Reads what has come, at most a few lines' worth.
    void receive(Duration now);
    /// While it waits for an answer: whether there is room for more of what it says, which is looked through for a safe.
    bool hears_ahead() const { return !gone() && reader_.unread() < longest_line; }
    /// A safe that it has said behind the change it waits for.
    std::optional<Request> safe_behind() const;
    /// The next line within its allowance; a flood or a line too long ends the connection.
    std::optional<std::string> next_line(Duration now);
    /// Nothing more of it is heard until its change is answered, or answer_within is over.
    void wait_for(const Request& request, std::future<Outcome> answer, Duration now);
    bool waits() const noexcept { return change_.has_value(); }
    bool waits_for_safe() const noexcept { return change_ && change_->request.is_safe(); }
    /// Says what became of its change, if that is known or was waited for too long.
    void answer(Duration now);
    /// A line to it. One that reads too slowly is dropped.
    void say(const std::string& line);
    /// Sends what waits, as far as it goes.
    void send();
    /// The last words, then the end.
    void dismiss(const std::string& line);
    /// A line that is no request; after too many the end.
    void count_mistake();

    bool safe_is_ahead = false;  ///< one of its safes went before its turn; until that comes, what would key is void
    bool wants_levels = false;
    bool wants_events = false;
    std::uint64_t levels_seen = 0;
    std::uint64_t events_seen = 0;

private:
    struct Change {
        Request request;
        std::future<Outcome> answer;
        Duration until{0};
    };

    Duration heard_;
    bool spoke_ = false;
    lines::Descriptor socket_;
    LineReader reader_;
    Allowance lines_{lines_a_second, lines_at_once};
    std::string unsent_;
    std::optional<Change> change_;
    int mistakes_ = 0;
    bool left_ = false;  // the other end has closed; what it said before still counts
    bool dismissed_ = false;
};

}  // namespace tripline::control
