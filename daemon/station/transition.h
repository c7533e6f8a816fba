// The rules of the station: one pure function, small enough to be walked whole.
#pragma once

#include "daemon/station/event.h"
#include "daemon/station/state.h"

namespace tripline::station {

/// What keeps the station off the air after it was taken off it.
struct Lock {
    bool quiet = false;    ///< until the microphone has been quiet
    bool command = false;  ///< mode keyed: until the operator commands it again
    bool operator==(const Lock&) const = default;
    constexpr bool any() const { return quiet || command; }
};

/// All that the rules remember from one hop to the next.
struct Standing {
    State state = State::rest;
    Lock lock;
    bool operator==(const Standing&) const = default;
};

/// What is true at this hop. Times come in as truths: a clock elsewhere counts frames.
struct Conditions {
    Mode mode = Mode::armed;
    bool voice = false;      ///< the gate is open
    bool held = false;       ///< the gate is open, or its hang time runs
    bool elapsed = false;    ///< the time of the present state has run out
    bool too_long = false;   ///< the longest over is reached
    bool steady = false;     ///< a sound without syllables holds the gate
    bool quiet = false;      ///< the microphone was quiet long enough to lift a lock-out
    bool commanded = false;  ///< the operator has just commanded the mode
    bool fault = false;
    bool not_finite = false;  ///< a NaN or an infinity now, or a moment ago
    bool not_speech = false;  ///< what held the gate was no voice: held is false with it
    bool reload = false;      ///< new settings wait for the station to rest
};

/// A step of the station; no step when `standing.state` is as before.
struct Step {
    Standing standing;
    Reason reason = Reason::none;
};

/// What forbids the air now, the gravest first; none when nothing does.
/// A steady tone is how one tunes: it does not end a forced transmission.
constexpr Reason forbids(const Conditions& c) {
    if (c.fault) return Reason::fault;
    if (c.not_finite) return Reason::not_finite;
    if (c.mode == Mode::safe) return Reason::safe;
    if (c.reload) return Reason::reload;
    if (c.too_long) return Reason::too_long;
    if (c.steady && c.mode == Mode::armed) return Reason::steady_tone;
    return Reason::none;
}

/// What asks for the air now; none when nothing does, or something forbids it.
constexpr Reason asks(Lock lock, const Conditions& c) {
    if (c.mode != Mode::keyed && !c.voice) return Reason::none;
    if (lock.any() || forbids(c) != Reason::none) return Reason::none;
    return c.mode == Mode::keyed ? Reason::forced : Reason::voice;
}

/// Why the station has to leave the air, or the way to it; none while it may go on.
constexpr Reason ends(Lock lock, const Conditions& c) {
    if (const Reason reason = forbids(c); reason != Reason::none) return reason;
    if (lock.any()) return Reason::refused;
    const bool wanted = c.mode == Mode::keyed || c.voice || c.held;
    if (wanted) return Reason::none;
    if (c.not_speech) return Reason::not_speech;
    return c.commanded ? Reason::unkeyed : Reason::silence;  // armed from keyed
}

/// The lock after this hop's conditions. A command is spent when it cannot be obeyed, or
/// when the transmission it forced is taken away: a forced key never comes back by itself.
constexpr Lock lock_after(Lock lock, const Conditions& c) {
    if (c.quiet) lock.quiet = false;
    if (c.mode != Mode::keyed || c.commanded) lock.command = false;
    if (c.mode == Mode::keyed && (lock.quiet || forbids(c) != Reason::none)) lock.command = true;
    return lock;
}

/// Where the state goes under the lock that holds now.
constexpr Step state_after(State from, Lock lock, const Conditions& c) {
    const Reason ask = asks(lock, c);
    const Reason end = from == State::rest ? Reason::none : ends(lock, c);
    const auto to = [&](State state, Reason reason) { return Step{{state, lock}, reason}; };
    const bool asked = ask != Reason::none;
    const bool ended = end != Reason::none;

    switch (from) {
        case State::rest:
            if (lock.any()) return to(State::locked_out, Reason::refused);
            if (asked) return to(State::muting, ask);
            break;
        case State::muting:
            if (ended) return to(State::unmuting, end);
            if (c.elapsed) return to(State::antenna_to_transmit, Reason::step);
            break;
        case State::antenna_to_transmit:
            if (ended) return to(State::antenna_to_receive, end);
            if (c.elapsed) return to(State::settling, Reason::step);
            break;
        case State::settling:  // may come from unkeying: power may still be falling
            if (ended) return to(State::unkeying, end);
            if (c.elapsed) return to(State::on_air, Reason::step);
            break;
        case State::on_air:
            if (ended) return to(State::unkeying, end);
            if (c.mode == Mode::armed && !c.voice) return to(State::hold, Reason::silence);
            break;
        case State::hold:
            if (ended) return to(State::unkeying, end);
            if (asked) return to(State::on_air, ask);
            break;
        case State::unkeying:  // the antenna is still at transmit
            if (asked) return to(State::settling, ask);
            if (c.elapsed) return to(State::antenna_to_receive, Reason::step);
            break;
        case State::antenna_to_receive:  // the relay lands before anything else
            if (c.elapsed && asked) return to(State::antenna_to_transmit, ask);
            if (c.elapsed) return to(State::unmuting, Reason::step);
            break;
        case State::unmuting:  // may come from muting: the mute gets its whole lead again
            if (asked) return to(State::muting, ask);
            if (c.elapsed) return to(lock.any() ? State::locked_out : State::rest, Reason::step);
            break;
        case State::locked_out:
            if (!lock.any()) return to(State::rest, Reason::lifted);
            break;
    }
    return to(from, Reason::none);
}

/// Whether nothing is on the way and nothing asks for the air: then no other condition changes anything.
constexpr bool idle(Standing now, Mode mode, bool voice) {
    return now.state == State::rest && !now.lock.any() && mode != Mode::keyed && !voice;
}

/// The one transition function. A time-out and a steady tone lock the station out until
/// the microphone has been quiet.
constexpr Step next(Standing now, const Conditions& c) {
    Step step = state_after(now.state, lock_after(now.lock, c), c);
    if (step.reason == Reason::too_long || step.reason == Reason::steady_tone)
        step.standing.lock.quiet = true;
    return step;
}

}  // namespace tripline::station
