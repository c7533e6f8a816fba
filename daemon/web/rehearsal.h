// How the last minutes would have been keyed with other thresholds, from the frames of levels
// that were kept. An estimate: it sees 25 moments a second where the station sees 2000, and
// takes the marks of speech as the station found them then. Pure.
#pragma once

#include "daemon/audio/level_frame.h"
#include "dsp/detector_settings.h"

#include <span>
#include <utility>
#include <vector>

namespace tripline::web {

struct Trial {
    dsp::GateSettings then;  ///< in force when the frames were taken
    dsp::GateSettings now;   ///< to be tried
    Duration hold{0};
};

/// Spells of a closed key, from and to, in order.
std::vector<std::pair<Frames, Frames>> rehearse(std::span<const audio::LevelFrame> frames, const Trial& trial, Hertz rate);

}  // namespace tripline::web
