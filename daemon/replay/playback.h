// A recording through the station's engine, the same as live sound goes.
#pragma once

#include "daemon/replay/recording.h"
#include "daemon/replay/spell.h"
#include "daemon/station/settings.h"

#include <cstddef>
#include <functional>
#include <limits>
#include <vector>

namespace tripline::station {
class Engine;
}

namespace tripline::replay {

/// Callbacks of a playback; each may be empty. What they throw ends the playback.
struct Watch {
    std::function<void(const station::Event&)> event;
    std::function<void(Frames at)> progress;   ///< after each block
    /// After each hop: the engine with its verdict and its state.
    std::function<void(const station::Engine&)> hop{};
    /// What the station remembered when the recording begins, as station::MemoryWriter noted it; empty:
    /// it has heard nothing yet.
    std::vector<std::byte> memory{};
    /// Events of the station itself that tell of commanded modes, in order: they are commanded here at the same times.
    std::vector<station::Event> commands{};
    Frames until{std::numeric_limits<std::int64_t>::max()};   ///< no block is begun from here on
};

/// Whether a memory was noted with such settings, as far as its shape tells.
bool fits(const std::vector<std::byte>& memory, const station::Settings& settings, Hertz rate);

/// Plays all of it, or as much as `watch` wants. Throws std::runtime_error as Recording::next() does, and
/// std::invalid_argument for settings out of range, and std::runtime_error for a memory of other settings.
std::vector<Spell> play(Recording& recording, const station::Settings& settings, const Watch& watch);

}  // namespace tripline::replay
