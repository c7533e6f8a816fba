#include "daemon/control/desk.h"

#include <chrono>
#include <utility>

namespace tripline::control {

namespace {

Duration now_steady() { return std::chrono::steady_clock::now().time_since_epoch(); }

}  // namespace

void Desk::show(StationView view) {
    const std::lock_guard lock(lock_);
    view_ = std::move(view);
}

void Desk::level(const audio::LevelFrame& frame) {
    const std::lock_guard lock(lock_);
    levels_.push(frame);
}

void Desk::event(std::string line) {
    const std::lock_guard lock(lock_);
    events_.push(std::move(line));
}

void Desk::over(const logbook::Over& over) {
    const std::lock_guard lock(lock_);
    overs_.push(over);
}

bool Desk::mark(std::uint64_t over, logbook::Mark mark) {
    const std::lock_guard lock(lock_);
    for (std::uint64_t number = overs_.first(); number < overs_.count(); ++number) {
        logbook::Over* const kept = overs_.find(number);
        if (kept->number != over) continue;
        kept->mark = mark;
        return true;
    }
    return false;
}

std::optional<Desk::Asked> Desk::next() {
    const std::lock_guard lock(lock_);
    while (!asked_.empty()) {
        Asked asked = std::move(asked_.front());
        asked_.pop_front();
        if (asked.request.is_safe() || now_steady() < asked.until) return asked;
    }
    return std::nullopt;
}

void Desk::close() {
    const std::lock_guard lock(lock_);
    closed_ = true;
    for (const Asked& asked : asked_) asked.answer->set_value({false, "the daemon is ending"});
    asked_.clear();
}

StationView Desk::view() const {
    const std::lock_guard lock(lock_);
    return view_;
}

std::vector<audio::LevelFrame> Desk::levels(std::uint64_t& cursor, std::size_t most) const {
    const std::lock_guard lock(lock_);
    return levels_.since(cursor, most);
}

std::vector<std::string> Desk::events(std::uint64_t& cursor, std::size_t most) const {
    const std::lock_guard lock(lock_);
    return events_.since(cursor, most);
}

std::vector<logbook::Over> Desk::overs(std::size_t last) const {
    const std::lock_guard lock(lock_);
    return overs_.last(last);
}

std::uint64_t Desk::levels_so_far() const {
    const std::lock_guard lock(lock_);
    return levels_.count();
}

std::uint64_t Desk::events_so_far() const {
    const std::lock_guard lock(lock_);
    return events_.count();
}

std::future<Outcome> Desk::put(const Request& request, const std::string& by) {
    const std::lock_guard lock(lock_);
    const Duration now = now_steady();
    Asked asked{request, by, now + answer_within, std::make_shared<std::promise<Outcome>>()};
    auto answer = asked.answer->get_future();
    if (closed_) {
        asked.answer->set_value({false, "the daemon is ending"});
    } else if (!request.is_safe() && !changes_.take(now)) {
        asked.answer->set_value({false, "too many changes at once"});
    } else if (request.is_safe()) {
        make_void_what_would_key();
        asked_.push_front(std::move(asked));
    } else {
        asked_.push_back(std::move(asked));
    }
    return answer;
}

/// With the lock held.
void Desk::make_void_what_would_key() {
    std::erase_if(asked_, [](const Asked& waiting) {
        if (waiting.request.verb != Verb::mode || waiting.request.is_safe()) return false;
        waiting.answer->set_value({false, "a safe came before its turn"});
        return true;
    });
}

Outcome Desk::ask(const Request& request, const std::string& by) {
    auto answer = put(request, by);
    answer.wait_for(answer_within);
    return outcome_of(std::move(answer));
}

bool is_known(const std::future<Outcome>& answer) { return answer.wait_for(Duration{0}) == std::future_status::ready; }

Outcome outcome_of(std::future<Outcome> answer) {
    try {
        if (is_known(answer)) return answer.get();
    } catch (const std::future_error&) {
        // it was too old when its turn came
    }
    return {false, "the daemon did not answer in time"};
}

}  // namespace tripline::control
