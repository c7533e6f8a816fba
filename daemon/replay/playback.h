// A recording through the station's engine, the same as live sound goes.
#pragma once

#include "daemon/replay/recording.h"
#include "daemon/replay/spell.h"
#include "daemon/station/settings.h"

#include <functional>

namespace tripline::replay {

/// Callbacks of a playback; each may be empty. What they throw ends the playback.
struct Watch {
    std::function<void(const station::Event&)> event;
    std::function<void(Frames at)> progress;   ///< after each block
    /// After each hop: the verdict at a time.
    std::function<void(Frames at, const dsp::Heard&)> hop{};
};

/// Plays all of it. Throws std::runtime_error as Recording::next() does, and
/// std::invalid_argument for settings out of range.
std::vector<Spell> play(Recording& recording, const station::Settings& settings, const Watch& watch);

}  // namespace tripline::replay
