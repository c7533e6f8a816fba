#include "daemon/replay/spell.h"

namespace tripline::replay {

using station::State;

void SpellBook::take(const station::Event& event) {
    if (event.kind != station::EventKind::state) return;
    const Duration at = to_duration(event.at, rate_);
    // Towards the key: from rest, or turned around on the way back to it.
    const bool on_the_way = event.to == State::muting ||
                            (event.to == State::antenna_to_transmit && event.from != State::muting) ||
                            (event.to == State::settling && event.from != State::antenna_to_transmit);
    if (on_the_way) begun_ = {.decided = at, .began_by = event.reason, .heard = event.heard};
    if (event.lines.ptt == keyed_) return;
    keyed_ = event.lines.ptt;
    if (keyed_) {
        spells_.push_back(begun_);
        spells_.back().keyed = spells_.back().released = at;
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
