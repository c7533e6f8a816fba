// When the operator is to be reminded of the station's identification. Pure: time is given.
#pragma once

#include "dsp/units.h"

namespace tripline::logbook {

/// The first over after a pause starts the count: 47 CFR 97.119(a) wants an identification at
/// the end of each communication, and at least every 10 minutes during one.
class Identify {
public:
    /// 0: never.
    explicit Identify(Duration every) : every_(every) {}

    /// On the air now? True when a reminder is due: while receiving, so that it comes between
    /// overs, but no later than the over that goes on when the time is up.
    bool due(bool on_air, Duration now) {
        follow(on_air);
        if (every_ == Duration{0}) return false;
        if (on_air && !counting_) since_ = now;
        counting_ = counting_ || on_air;
        if (!counting_ || now - since_ < every_) return false;
        counting_ = false;
        reminded_ = true;
        return true;
    }

    /// From a reminder until the end of the next over, or of the one that was going on.
    bool reminded() const { return reminded_; }

private:
    void follow(bool on_air) {
        if (reminded_ && spoken_ && !on_air) reminded_ = false;
        spoken_ = reminded_ && on_air;
    }

    Duration every_;
    bool counting_ = false;
    bool reminded_ = false;
    bool spoken_ = false;  ///< since the reminder, and still
    Duration since_{0};
};

}  // namespace tripline::logbook
