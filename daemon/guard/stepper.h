// From the lines wanted to the lines as they may be now: mute, antenna, key; back in
// reverse. No step comes sooner than the lead or lag time before it. Pure.
#pragma once

#include "daemon/guard/judge.h"

namespace tripline::guard {

class Stepper {
public:
    explicit Stepper(const station::SequenceSettings& steps) noexcept : steps_(steps) {}

    station::Lines next(const station::Lines& wanted, Instant now) noexcept;
    const station::Lines& lines() const noexcept { return lines_; }
    /// When next() has to be called though nothing new is wanted.
    Instant due() const noexcept { return due_; }

private:
    void down(const station::Lines& wanted, Instant now) noexcept;
    void up(const station::Lines& wanted, Instant now) noexcept;

    station::SequenceSettings steps_;
    station::Lines lines_;
    Instant power_gone_{};   // the key has been open for its lag
    Instant at_receive_{};   // the antenna relay has been released for its lag
    Instant muted_{};        // the receiver has been muted for its lead
    Instant at_transmit_{};  // the antenna relay has been at transmit for its lead, and has settled
    Instant due_ = Instant::max();
};

}  // namespace tripline::guard
