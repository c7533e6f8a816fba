// Which orders are sound and whether the station may stay keyed. Pure: it is told the
// messages and the time.
#pragma once

#include "daemon/guard/plan.h"
#include "daemon/guard/protocol.h"

#include <span>

namespace tripline::guard {

/// Time since boot, suspended time included: after a suspend the daemon has been silent.
using Instant = Duration;

class Judge {
public:
    /// More orders than this within `flood_window` are a flood.
    static constexpr int flood_limit = 100;
    static constexpr Duration flood_window = 100ms;
    /// After an order that is not sound nothing is keyed for this long: a broken daemon does
    /// not chatter the key.
    static constexpr Duration distrust = 2s;

    explicit Judge(const Plan& plan) noexcept;

    /// A message as it came, of any size and content. True: a sound order, carried out, of a
    /// daemon that finds nothing wrong.
    bool take(std::span<const std::byte> message, Instant now) noexcept;
    /// Time goes by: silence and the longest transmission.
    void pass(Instant now) noexcept;
    /// line_failed or stopped: nothing lifts it, and the first counts more.
    void fail(Condition final) noexcept;

    Condition condition() const noexcept { return condition_; }
    bool ended() const noexcept;
    /// All at rest unless the condition is good.
    station::Lines wanted() const noexcept;
    std::uint32_t sequence() const noexcept { return sequence_; }
    /// When pass() has to be called next.
    Instant due() const noexcept;

private:
    Condition examine(std::span<const std::byte> message, Order& order) noexcept;
    bool flooded(Instant now) noexcept;

    Duration silence_, longest_;
    bool mute_wired_, antenna_wired_;
    Condition condition_ = Condition::silent;
    station::Lines wanted_;
    bool started_ = false;  // a first order fixed the sequence
    std::uint32_t sequence_ = 0;
    Instant heard_{}, keyed_{}, window_{}, trusted_{};
    int in_window_ = 0;
};

}  // namespace tripline::guard
