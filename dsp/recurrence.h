// Tells a sound that follows each unmute from one that follows this one.
#pragma once

#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// A set's beep comes at the same instant after each unmute, to some milliseconds; nobody speaks so. Instants
/// are in hops since the unmute; `none` is one past the last.
class Recurrence {
public:
    Recurrence(long none, double hop_seconds)
        : none_(none), same_(to_hops(std::chrono::milliseconds{15}, hop_seconds)), gap_(to_hops(std::chrono::milliseconds{50}, hop_seconds)),
          quiet_(gap_), rose_(none), doubted_(none), before_(none) {}

    void unmuted() noexcept {
        sounded_ = came_ = false;
        rose_ = 0;  // what sounds already
    }
    /// One call a hop since the unmute; `sounds`: what would open, but for gaps.
    void operator()(long instant, bool sounds) noexcept {
        if (!sounds) {
            quiet_ = std::min(quiet_ + 1, gap_);
            return;
        }
        sounded_ = true;
        if (quiet_ == gap_) {
            rose_ = instant;
            came_ = came_ || same(instant, doubted_);
        }
        quiet_ = 0;
    }
    /// When what sounds at this instant began to, be it withheld until now.
    long began(long instant) const noexcept { return quiet_ == 0 ? std::min(rose_, instant) : instant; }
    /// An unmute has passed. True if nothing has sounded since, or twice running nothing has begun to when the doubted spell did.
    bool stayed_away() noexcept {
        away_ = came_ ? 0 : sounded_ ? std::min(away_ + 1, enough_away) : enough_away;
        return away_ >= enough_away;
    }

    /// A spell that began at this instant is over. True for the third running that was brief and began as the one before.
    bool again(long instant, bool brief) noexcept {
        const bool alike = brief && before_ < none_ && same(instant, before_);
        before_ = brief ? instant : none_;
        alike_ = alike ? std::min(alike_ + 1, enough) : 0;
        return alike_ == enough;
    }
    /// A spell that began at this instant was the receiver's.
    void doubt(long instant) noexcept {
        doubted_ = instant;
        away_ = 0;
    }

    void reset() noexcept {
        quiet_ = gap_;
        rose_ = doubted_ = before_ = none_;
        alike_ = away_ = 0;
        sounded_ = came_ = false;
    }
    template <typename Visit> void memory(Visit& visit) {
        for (long* instant : {&rose_, &doubted_, &before_}) visit(*instant, none_ + 1);
        visit(quiet_, gap_ + 1);
        visit(alike_, enough + 1);
        visit(away_, enough_away + 1);
        visit(sounded_);
        visit(came_);
    }

private:
    static constexpr int enough = 2;
    static constexpr int enough_away = 2;

    bool same(long one, long other) const noexcept { return std::max(one - other, other - one) <= same_; }

    long none_, same_, gap_;
    long quiet_;     // hops since something sounded
    long rose_;      // when what sounds began to
    long doubted_;   // when the last spell began that was the receiver's
    long before_;    // when the last spell began, if it was brief
    int alike_ = 0;  // spells running that began when the one before did
    int away_ = 0;   // unmutes running
    bool sounded_ = false;
    bool came_ = false;
};

}  // namespace tripline::dsp
