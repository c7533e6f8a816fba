#include "daemon/replay/spell.h"

namespace tripline::replay {

void SpellBook::begin_on_air() {
    begun_yet_ = keyed_ = true;
    spells_.push_back({.from_before = true});
}

void SpellBook::take(const station::Event& event) {
    if (!begun_yet_ && station::lines_of(event.from).ptt) begin_on_air();
    begun_yet_ = true;
    if (event.kind != station::EventKind::state) return;
    const Duration at = to_duration(event.at, rate_);
    begun_.take(event);
    if (event.lines.ptt == keyed_) return;
    keyed_ = event.lines.ptt;
    if (keyed_) {
        spells_.push_back({.decided = to_duration(begun_.at, rate_), .keyed = at, .released = at,
                           .began_by = begun_.why, .heard = begun_.heard});
    } else {
        spells_.back().released = at;
        spells_.back().reason = event.reason;
    }
}

void SpellBook::close(Frames end) {
    if (keyed_) spells_.back().released = to_duration(end, rate_);
    keyed_ = false;
}

}  // namespace tripline::replay
