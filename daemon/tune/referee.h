// Whether a setting has made a mistake, told as soon as it is sure.
#pragma once

#include "daemon/replay/mistake.h"

#include <optional>
#include <vector>

namespace tripline::tune {

/// Knows who speaks when in a recording, and looks at what settings of one timing have done so
/// far. What it calls a mistake is one of those that replay::score() counts at the end, clipped
/// fronts left out; it does not find those of an over that the recording ends soon after.
class Referee {
public:
    /// `speech`: the operator's, in the whole recording.
    Referee(const replay::Spans& speech, const replay::Timing& timing);

    /// What of one setting was looked at before.
    struct Seen {
        std::size_t spells = 0;
        std::size_t overs = 0;
    };

    /// The first mistake that was not looked at and is sure at `now`. `spells`: all until then, in
    /// order; the last may go on.
    std::optional<replay::MistakeKind> look(const std::vector<replay::Spell>& spells, Duration now, Seen& seen) const;

private:
    struct Over {
        replay::Spans speech;    ///< in it, and what follows
        replay::Span span;
        Duration sure{};         ///< nothing that happens later changes how it was caught
    };

    bool wanted(const replay::Spell& spell) const;
    std::optional<replay::MistakeKind> judge(const Over& over, std::vector<replay::Spell> spells, Duration now) const;

    replay::Timing timing_;
    std::vector<Over> overs_;
};

}  // namespace tripline::tune
