// Whether the machine is about to sleep, from logind (org.freedesktop.login1(5)), which waits a moment for
// whoever asks for it. What a line does while the machine sleeps nobody can say: the key opens before.
#pragma once

#include "daemon/lines/descriptor.h"

#include <memory>

struct sd_bus;

namespace tripline::service {

/// For one thread. Waits for nothing. Where there is no logind it does nothing.
class SleepWatch {
public:
    SleepWatch();
    SleepWatch(const SleepWatch&) = delete;
    SleepWatch& operator=(const SleepWatch&) = delete;

    /// Each turn: takes what has been told.
    void turn();
    /// From the announcement of a sleep until the machine has woken.
    bool near() const noexcept { return near_; }
    /// The lines are at rest: the machine need not wait any longer.
    void let_sleep() noexcept { delay_ = lines::Descriptor(); }

private:
    struct Callbacks;
    void ask_for_delay();
    void lose();

    struct Close {
        void operator()(sd_bus* bus) const;
    };
    std::unique_ptr<sd_bus, Close> bus_;
    lines::Descriptor delay_;  ///< while it is open logind waits, for InhibitDelayMaxSec at most (logind.conf(5))
    bool near_ = false;
};

}  // namespace tripline::service
