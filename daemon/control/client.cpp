#include "daemon/control/client.h"

#include "daemon/control/words.h"

#include <sys/socket.h>

#include <array>
#include <cerrno>
#include <utility>

namespace tripline::control {

void Client::receive(Duration now) {
    std::array<char, longest_line> part{};
    const ssize_t got = ::recv(socket_.get(), part.data(), part.size(), MSG_DONTWAIT);
    if (got > 0) {
        heard_ = now;
        spoke_ = true;
        reader_.push({part.data(), static_cast<std::size_t>(got)});
        return;
    }
    if (got == 0 || (errno != EAGAIN && errno != EINTR)) left_ = true;
}

std::optional<Request> Client::safe_behind() const {
    std::optional<Request> safe;
    const auto is_safe = [&safe](const std::string& line) {
        if (line.find("safe") == std::string::npos) return false;
        const Parsed parsed = parse(line);
        const auto* const request = std::get_if<Request>(&parsed);
        if (request == nullptr || !request->is_safe()) return false;
        safe = *request;
        return true;
    };
    (void)reader_.ahead(is_safe);
    return safe;
}

std::optional<std::string> Client::next_line(Duration now) {
    if (dismissed_) return std::nullopt;
    auto line = reader_.next();
    if (reader_.too_long()) {
        dismiss(mistake("a line is too long"));
        return std::nullopt;
    }
    if (line && !lines_.take(now)) {
        dismiss(mistake("too many lines"));
        return std::nullopt;
    }
    return line;
}

void Client::wait_for(const Request& request, std::future<Outcome> answer, Duration now) {
    change_ = Change{request, std::move(answer), now + answer_within};
}

void Client::answer(Duration now) {
    if (!change_ || (!is_known(change_->answer) && now < change_->until)) return;
    say(control::answer(change_->request, outcome_of(std::move(change_->answer))));
    change_.reset();
}

void Client::say(const std::string& line) {
    if (gone()) return;
    if (unsent_.size() + line.size() >= most_unsent) {
        dismissed_ = true;
        return;
    }
    unsent_ += line;
    unsent_ += '\n';
    send();
}

void Client::send() {
    if (gone() || unsent_.empty()) return;
    const ssize_t sent = ::send(socket_.get(), unsent_.data(), unsent_.size(), MSG_DONTWAIT | MSG_NOSIGNAL);
    if (sent > 0) unsent_.erase(0, static_cast<std::size_t>(sent));
    else if (errno != EAGAIN && errno != EINTR) left_ = true;
}

void Client::dismiss(const std::string& line) {
    say(line);
    dismissed_ = true;
}

void Client::count_mistake() {
    if (++mistakes_ >= most_mistakes) dismiss(mistake("too many mistakes"));
}

}  // namespace tripline::control
