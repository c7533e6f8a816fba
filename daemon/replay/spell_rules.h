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

/// All of them together.
inline Spans heard(const std::vector<Spell>& spells, const Timing& timing) {
    Spans spans;
    for (const Spell& spell : spells) spans.push_back(heard(spell, timing));
    return joined(std::move(spans), Duration::zero());
}

inline bool begins_in(const Spell& spell, const Span& over) {
    return !spell.from_before && spell.decided >= over.begin - early_tolerance && spell.decided <= over.end;
}

/// Begun outside every over, and seen to begin.
inline bool is_false(const Spell& spell, const Spans& overs) {
    return !spell.from_before && std::ranges::none_of(overs, [&](const Span& over) { return begins_in(spell, over); });
}

inline bool overlaps(const Spell& spell, const Span& over) {
    return spell.keyed < over.end && spell.released > over.begin;
}

/// `spoken`: the speech of an over that was caught; `front`: of it, lost before it was first on
/// the air; `on_the_air`: all that was heard.
inline bool is_torn(const Spans& spoken, Duration front, const Spans& on_the_air, const Timing& timing) {
    const Duration relays = std::max(Duration::zero(), timing.relay - timing.look_ahead);
    const Duration lost = total(difference(spoken, on_the_air)) - std::min(front, relays);
    return lost > tear_least && to_seconds(lost) > tear_share * to_seconds(total(spoken));
}

/// The spell an over was in goes on, to no purpose, before the next over begins.
inline bool holds_on(const Spell& spell, const Span& over, Duration next, const Timing& timing) {
    const Duration until = std::min(spell.released, next);
    return spell.keyed < over.end && until > over.end + timing.hold + held_on_limit;
}

}  // namespace tripline::replay
