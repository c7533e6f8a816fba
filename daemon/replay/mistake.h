// What went wrong in a recording, one by one: the counts of a score with their places.
#pragma once

#include "daemon/replay/score.h"

#include <string_view>
#include <vector>

namespace tripline::replay {

enum class MistakeKind : unsigned char {
    missed,     ///< an over without any time on the air
    torn,       ///< an over that was caught, of which too much was lost
    false_key,  ///< a spell begun outside every over
    held_on,    ///< the key stayed closed far beyond the hang time
    clipped,    ///< an over lost more than clip_limit at its front
};

/// One word each.
std::string_view name(MistakeKind kind);

struct Mistake {
    MistakeKind kind = MistakeKind::missed;
    Span at;   ///< the over; the keyed time; the time held on; what was lost of the front
    bool operator==(const Mistake&) const = default;
};

/// In the order of time; as many of each kind as score() counts. `labels` is the operator's
/// speech.
std::vector<Mistake> mistakes(const Spans& labels, const std::vector<Spell>& spells, const Timing& timing);

}  // namespace tripline::replay
