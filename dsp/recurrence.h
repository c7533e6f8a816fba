// Tells a sound that follows each unmute from one that follows this one.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// A set's beep comes at the same instant after each unmute, to some milliseconds; nobody speaks so. Instants
/// are in hops since the unmute; `none` is one past the last.
class Recurrence {
public:
    Recurrence(long none, double hop_seconds)
        : none_(none), same_(std::lround(std::chrono::duration<double>(15ms).count() / hop_seconds)), doubted_(none), before_(none) {}

    void unmuted() noexcept { came_ = false; }
    /// One call a hop since the unmute; `sounds`: what would open.
    void operator()(long instant, bool sounds) noexcept {
        if (sounds && !sounding_ && same(instant, doubted_)) came_ = true;
        sounding_ = sounds;
    }
    /// Whether since the unmute nothing has begun to sound when the doubted spell did.
    bool stayed_away() const noexcept { return !came_; }

    /// A spell that began at this instant is over. True for the third running that was brief and began as the one before.
    bool again(long instant, bool brief) noexcept {
        const bool alike = brief && before_ < none_ && same(instant, before_);
        before_ = brief ? instant : none_;
        alike_ = alike ? std::min(alike_ + 1, enough) : 0;
        return alike_ == enough;
    }
    /// A spell that began at this instant was the receiver's.
    void doubt(long instant) noexcept { doubted_ = instant; }

    void reset() noexcept {
        doubted_ = before_ = none_;
        alike_ = 0;
        sounding_ = came_ = false;
    }
    template <typename Visit> void memory(Visit& visit) {
        for (long* instant : {&doubted_, &before_}) visit(*instant, none_ + 1);
        visit(alike_, enough + 1);
        visit(sounding_);
        visit(came_);
    }

private:
    static constexpr int enough = 2;

    bool same(long one, long other) const noexcept { return std::max(one - other, other - one) <= same_; }

    long none_, same_;
    long doubted_;   // when the last spell began that was the receiver's
    long before_;    // when the last spell began, if it was brief
    int alike_ = 0;  // spells running that began when the one before did
    bool sounding_ = false;
    bool came_ = false;
};

}  // namespace tripline::dsp
