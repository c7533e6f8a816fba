// All that is known of what the station did in a recording.
#pragma once

#include "daemon/replay/playback.h"
#include "daemon/replay/span.h"

#include <functional>
#include <vector>

namespace tripline::explain {

/// The verdict of one hop.
struct Hop {
    Duration at{};   ///< its end
    dsp::Heard heard{};
};

struct Account {
    Hertz rate{};
    Duration length{};
    std::vector<replay::Spell> spells;
    std::vector<station::Event> events;
    std::vector<Hop> hops;   ///< those that end within the window asked for

    Duration time_of(const station::Event& event) const { return to_duration(event.at, rate); }
    /// The transmission, or the way to it, at a time; null for none.
    const replay::Spell* spell_at(Duration at) const;
    /// As the last event up to a time left it; rest at the start.
    station::State state_at(Duration at) const;
};

/// Plays all of a recording that has not been read yet. `progress` may be empty. Throws as
/// replay::play() does.
Account account_of(replay::Recording& recording, const station::Settings& settings, const replay::Span& window,
                   const std::function<void(double share)>& progress);

}  // namespace tripline::explain
