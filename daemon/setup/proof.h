// The recording that was measured, replayed with the settings found.
#pragma once

#include "daemon/replay/playback.h"
#include "daemon/setup/survey.h"

#include <string>

namespace tripline::setup {

struct Proof {
    bool room_silent = false;       ///< nothing keyed in the room's stretch
    bool receiver_taken = false;
    bool receiver_silent = false;   ///< nor in the receiver's, if there is one
    bool voice_keyed = false;       ///< the voice did
    bool soft_taken = false;
    bool soft_keyed = true;         ///< and the soft voice, if there is one
    bool good() const { return room_silent && receiver_silent && voice_keyed && soft_keyed; }
};

/// Throws as replay::play() does, and what `watch` throws.
Proof prove(const replay::RecordingSource& source, const Stretches& stretches, const station::Settings& settings,
            const replay::Watch& watch = {});

std::string in_words(const Proof& proof);

}  // namespace tripline::setup
