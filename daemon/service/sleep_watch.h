// Whether the machine is about to sleep, from logind (org.freedesktop.login1(5)), which waits a moment for
// whoever asks for it. What a line does while the machine sleeps nobody can say: the key opens before.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/service/back_off.h"

#include <memory>
#include <string>
#include <string_view>
#include <utility>

struct sd_bus;

namespace tripline::service {

/// For one thread. Waits for nothing. Where there is no bus, or none any more, it looks for one now and then; without
/// logind it does nothing.
class SleepWatch {
public:
    /// `patience`: with a logind that announced a sleep, before it is asked whether that still stands; and for its answer.
    explicit SleepWatch(Duration patience = std::chrono::seconds{10});
    SleepWatch(const SleepWatch&) = delete;
    SleepWatch& operator=(const SleepWatch&) = delete;

    /// Each turn: takes what has been told.
    void turn(Duration now);
    /// From the announcement of a sleep until the machine has woken.
    bool near() const noexcept { return near_; }
    /// A sleep was announced, and logind does not answer any more: nobody knows whether the machine still goes to sleep.
    bool unanswered() const noexcept { return unanswered_; }
    /// Somebody at the station says that it does not.
    void disregard_unanswered() noexcept;
    /// Once after each refusal: why logind does not let the machine wait. Else empty.
    std::string take_refusal() { return std::exchange(refusal_, {}); }
    /// The lines are at rest: the machine need not wait any longer.
    void let_sleep() noexcept { delay_ = lines::Descriptor(); }

private:
    struct Callbacks;
    void join(Duration now);
    /// False: the bus cannot be used.
    bool listen();
    void ask_whether_near();
    void ask_for_delay();
    void forget() noexcept;
    void lose();
    void ask_again(Duration now);
    void tell_near(bool near) noexcept;
    void take_no_delay(std::string_view error, const char* why);

    struct Close {
        void operator()(sd_bus* bus) const;
    };
    std::unique_ptr<sd_bus, Close> bus_;
    lines::Descriptor delay_;  ///< while it is open logind waits, for InhibitDelayMaxSec at most (logind.conf(5))
    bool near_ = false;
    bool unanswered_ = false;
    bool asks_for_delay_ = false;  ///< again: what was asked for before did not come
    std::string refusal_;
    Duration patience_;
    Duration next_ask_{0};
    BackOff wait_{std::chrono::seconds{1}, std::chrono::minutes{1}};
    Duration next_join_{0};
};

}  // namespace tripline::service
