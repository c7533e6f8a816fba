// Whether the machine is about to sleep, from logind (org.freedesktop.login1(5)), which waits a moment for
// whoever asks for it. What a line does while the machine sleeps nobody can say: the key opens before.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/service/back_off.h"

#include <memory>

struct sd_bus;

namespace tripline::service {

/// For one thread. Waits for nothing. Where there is no bus, or none any more, it looks for one now and then; without
/// logind it does nothing.
class SleepWatch {
public:
    SleepWatch();
    SleepWatch(const SleepWatch&) = delete;
    SleepWatch& operator=(const SleepWatch&) = delete;

    /// Each turn: takes what has been told.
    void turn(Duration now);
    /// From the announcement of a sleep until the machine has woken.
    bool near() const noexcept { return near_; }
    /// The lines are at rest: the machine need not wait any longer.
    void let_sleep() noexcept { delay_ = lines::Descriptor(); }

private:
    struct Callbacks;
    void join(Duration now);
    /// False: the bus cannot be used.
    bool listen();
    void ask_whether_near();
    void ask_for_delay();
    void forget();
    void lose();

    struct Close {
        void operator()(sd_bus* bus) const;
    };
    std::unique_ptr<sd_bus, Close> bus_;
    lines::Descriptor delay_;  ///< while it is open logind waits, for InhibitDelayMaxSec at most (logind.conf(5))
    bool near_ = false;
    BackOff wait_{std::chrono::seconds{1}, std::chrono::minutes{1}};
    Duration next_join_{0};
};

}  // namespace tripline::service
