#include "daemon/guard/guard.h"

#include "daemon/guard/backstop.h"

#include <sys/socket.h>
#include <time.h>

#include <algorithm>
#include <cerrno>

namespace tripline::guard {
namespace {

using lines::index, lines::Role;

Instant since_boot() noexcept {
    timespec time{};
    ::clock_gettime(CLOCK_BOOTTIME, &time);
    return std::chrono::seconds(time.tv_sec) + std::chrono::nanoseconds(time.tv_nsec);
}

}  // namespace

Guard::Guard(const Plan& plan, lines::Bank& bank, int daemon, int signals, int backstop) noexcept
    : bank_(bank), judge_(plan), stepper_(plan.steps), alive_(plan.alive_period) {
    polled_ = {pollfd{daemon, POLLIN, 0}, {signals, POLLIN, 0}, {backstop, POLLIN, 0}};
    for (const Role role : lines::all_roles) polled_[3 + index(role)] = {bank_[role].descriptor(), 0, 0};
}

bool Guard::run() noexcept {
    report();
    do {
        wait(since_boot());
        const Instant now = since_boot();
        const Condition before = judge_.condition();
        const bool order = polled_[0].revents != 0;
        if (order) hear(now);
        judge_.pass(now);
        for (pollfd& end : std::span(polled_).subspan(1, 2))
            if (end.revents) stop(end);
        watch_devices();
        drive(now);
        if (order) read_back();
        // What a failure has just shown takes effect at once.
        if (judge_.ended()) drive(now);
        if (order || judge_.condition() != before) report();
    } while (!done(since_boot()));
    return judge_.condition() != Condition::line_failed;
}

bool Guard::done(Instant now) noexcept {
    if (!judge_.ended() || stepper_.lines() != station::Lines{}) return false;
    give_up_ = std::min(give_up_, now + retry_for);
    return driven_ == ordered_ || now >= give_up_;
}

void Guard::stop(pollfd& cause) noexcept {
    judge_.fail(Condition::stopped);
    cause.fd = -1;
}

void Guard::wait(Instant now) noexcept {
    const Duration longest = driven_ != ordered_ ? retry_every : driven_ != Levels{} ? Duration(beat) : 1s;
    const Instant due = std::min({judge_.due(), stepper_.due(), alive_.due(), now + longest});
    const Duration left = std::max(due - now, Duration{0});
    const timespec timeout{left / 1s, static_cast<long>((left % 1s).count())};
    if (::ppoll(polled_.data(), polled_.size(), &timeout, nullptr) < 0)
        for (pollfd& entry : polled_) entry.revents = 0;
}

void Guard::hear(Instant now) noexcept {
    // One byte more than an order, so that a longer message is seen to be longer.
    std::array<std::byte, sizeof(Order) + 1> message;
    const ssize_t size = ::recv(polled_[0].fd, message.data(), message.size(), MSG_DONTWAIT);
    const bool gone = size == 0 || (size < 0 && errno != EAGAIN && errno != EINTR);
    if (gone) stop(polled_[0]);
    else if (size > 0 && judge_.take(std::span(message.data(), std::size_t(size)), now)) alive_.paid();
}

void Guard::watch_devices() noexcept {
    for (const Role role : lines::all_roles) {
        pollfd& entry = polled_[3 + index(role)];
        if (!entry.revents) continue;
        line_failed(role, ENODEV);
        entry.fd = -1;
    }
}

void Guard::tell_backstop(bool active) noexcept {
    if (::send(polled_[2].fd, &active, sizeof active, MSG_DONTWAIT | MSG_NOSIGNAL) < 0) stop(polled_[2]);
}

void Guard::drive(Instant now) noexcept {
    const station::Lines lines = stepper_.next(judge_.wanted(), now);
    const bool alive = alive_.next(judge_.condition() == Condition::good, now);
    ordered_ = {lines.ptt, lines.mute, lines.antenna, alive};
    for (const Role role : {Role::ptt, Role::antenna, Role::mute, Role::alive})
        if (driven_[index(role)] && !ordered_[index(role)]) set(role, false);
    if (ordered_ != Levels{}) tell_backstop(true);
    for (const Role role : {Role::mute, Role::antenna, Role::ptt, Role::alive})
        if (!driven_[index(role)] && ordered_[index(role)] && !judge_.ended()) set(role, true);
    tell_backstop(driven_ != Levels{});
}

void Guard::set(Role role, bool active) noexcept {
    driven_[index(role)] |= active;  // one that cannot be made active may be so all the same
    // Told before it is done: a guard that is killed while it closes the key can tell nothing afterwards.
    if (role == Role::ptt && active) report();
    const Instant before = since_boot();
    lines::Outcome outcome = bank_[role].set(active);
    if (outcome) driven_[index(role)] = active;
    if (outcome && since_boot() - before > longest_call) outcome = {ETIMEDOUT};
    if (!outcome) line_failed(role, outcome.error);
}

void Guard::read_back() noexcept {
    for (const Role role : lines::all_roles) {
        const lines::Reading reading = bank_[role].read();
        if (!reading.outcome) line_failed(role, reading.outcome.error);
        else if (reading.known && reading.active != driven_[index(role)]) line_failed(role, EIO);
    }
}

void Guard::line_failed(Role role, int error) noexcept {
    if (judge_.condition() == Condition::line_failed) return;
    failed_role_ = static_cast<std::uint8_t>(role);
    failed_error_ = static_cast<std::uint8_t>(error);
    judge_.fail(Condition::line_failed);
}

// A report that finds the socket full is dropped: the next one says the same.
void Guard::report() noexcept {
    Report report{.sequence = judge_.sequence(), .ptt = driven_[index(Role::ptt)], .mute = driven_[index(Role::mute)], .antenna = driven_[index(Role::antenna)],
                  .condition = judge_.condition(), .failed_role = failed_role_, .failed_error = failed_error_};
    seal(report);
    (void)::send(polled_[0].fd, &report, sizeof report, MSG_DONTWAIT | MSG_NOSIGNAL);
}

}  // namespace tripline::guard
