// The loop that alone holds the lines: orders in, lines driven, reports out.
#pragma once

#include "daemon/guard/alive.h"
#include "daemon/guard/judge.h"
#include "daemon/guard/stepper.h"
#include "daemon/lines/bank.h"

#include <poll.h>

namespace tripline::guard {

class Guard {
public:
    /// `daemon`: SOCK_SEQPACKET, see protocol.h. `signals`: a signalfd of what ends the guard.
    /// `backstop`: see start_backstop().
    Guard(const Plan& plan, lines::Bank& bank, int daemon, int signals, int backstop) noexcept;

    /// Until the daemon or the backstop is gone, a signal comes or a line fails; every line is driven to
    /// rest then, in safe order, and what does not go to rest is tried again for
    /// `retry_for`. Returns true unless a line failed. No heap.
    bool run() noexcept;

    /// A call that takes longer than `longest_call` has failed: the guard could not hear meanwhile.
    static constexpr Duration retry_for = 100ms, retry_every = 5ms, longest_call = 250ms;

private:
    using Levels = std::array<bool, lines::all_roles.size()>;  // by role

    bool done(Instant now) noexcept;
    void wait(Instant now) noexcept;
    void hear(Instant now) noexcept;
    void stop(pollfd& cause) noexcept;
    void watch_devices() noexcept;
    void tell_backstop(bool active) noexcept;
    void drive(Instant now) noexcept;
    void set(lines::Role role, bool active) noexcept;
    void read_back() noexcept;
    void line_failed(lines::Role role, int error) noexcept;
    void report() noexcept;

    lines::Bank& bank_;
    Judge judge_;
    Stepper stepper_;
    Alive alive_;
    std::array<pollfd, 3 + lines::all_roles.size()> polled_{};  // daemon, signals, backstop, lines by role
    Levels ordered_{};  // what each line was last told to be
    Levels driven_{};   // active from the first try to make it so until it rests with success
    Instant give_up_ = Instant::max();
    std::uint8_t failed_role_ = 0, failed_error_ = 0;
};

}  // namespace tripline::guard
