// The same by levels alone, for a take that no fixed path can explain.
#pragma once

#include "daemon/audio/frame.h"
#include "dsp/units.h"

#include <span>

namespace tripline::setup {

/// For how long, in a take in which the receiver speaks, the microphone's power in the voice band stands 10 dB over both the
/// room's and what the receiver leaks at most. The leak's ratio is that of the softer blocks of a second in which the receiver
/// speaks, so that somebody who speaks in most of them is taken for the leak. The first 0.7 s are not looked at.
Duration stray_by_level(std::span<const audio::Frame> frames, Hertz rate, Dbfs room);

}  // namespace tripline::setup
