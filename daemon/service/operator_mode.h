// The operator's mode on its way to the engine: what the ring of commands had no room for,
// or an engine that is gone took with it, is told again. A safe is never lost.
#pragma once

#include "daemon/audio/live_engine.h"

namespace tripline::service {

/// For one thread, the only producer of the ring.
class OperatorMode {
public:
    explicit OperatorMode(station::Mode start) : wanted_(start) {}

    /// Mode armed or safe, to be sent until it has gone.
    void command(station::Mode mode) {
        safe_waits_ = safe_waits_ || mode == station::Mode::safe;
        wanted_ = mode;
        waits_ = true;
    }

    /// Mode keyed goes at once or not at all: it must not key later by itself. False: refused.
    bool key(audio::Ring<audio::Command>& ring) {
        if (waits_ || !push(ring, station::Mode::keyed)) return false;
        wanted_ = station::Mode::keyed;
        return true;
    }

    /// What waits goes as soon as there is room, a safe before what followed it.
    void send(audio::Ring<audio::Command>& ring) {
        if (safe_waits_) safe_waits_ = !push(ring, station::Mode::safe);
        if (waits_ && !safe_waits_) waits_ = wanted_ != station::Mode::safe && !push(ring, wanted_);
    }

    /// A new engine may not have heard the last one; a forced key is not repeated.
    void engine_renewed() {
        if (wanted_ != station::Mode::keyed) command(wanted_);
    }

    /// Safe is commanded, and the engine does not say yet that it is.
    bool safe_pending(station::Mode engine) const {
        return safe_waits_ || (wanted_ == station::Mode::safe && engine != station::Mode::safe);
    }

    /// The last one commanded.
    station::Mode wanted() const { return wanted_; }

private:
    static bool push(audio::Ring<audio::Command>& ring, station::Mode mode) {
        return ring.push({.kind = audio::Command::Kind::mode, .mode = mode, .standing = false});
    }

    station::Mode wanted_;
    bool waits_ = false;
    bool safe_waits_ = false;  ///< a safe that was commanded, whatever followed it
};

}  // namespace tripline::service
