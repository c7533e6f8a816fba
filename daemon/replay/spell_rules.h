// How a spell on the air and an over of speech belong together.
#pragma once

#include "daemon/replay/score.h"

#include <algorithm>

namespace tripline::replay {

/// Times, in the microphone's own time, whose sound reaches the air in a spell. One that only
/// the recording's end broke off would have gone on.
inline Span heard(const Spell& spell, const Timing& timing) {
    const Duration ready = std::min(spell.keyed + timing.transmitter, spell.released);
    const bool broken_off = spell.reason == station::Reason::none;
    return {ready - timing.look_ahead, spell.released - (broken_off ? Duration{} : timing.look_ahead)};
}

inline bool begins_in(const Spell& spell, const Span& over) {
    return spell.decided >= over.begin - early_tolerance && spell.decided <= over.end;
}

inline bool overlaps(const Spell& spell, const Span& over) {
    return spell.keyed < over.end && spell.released > over.begin;
}

/// The spell an over was in goes on, to no purpose, before the next over begins.
inline bool holds_on(const Spell& spell, const Span& over, Duration next, const Timing& timing) {
    const Duration until = std::min(spell.released, next);
    return spell.keyed < over.end && until > over.end + timing.hold + held_on_limit;
}

}  // namespace tripline::replay
