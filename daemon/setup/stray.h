// Sound at the microphone that the receiver cannot have made.
#pragma once

#include "daemon/audio/frame.h"
#include "dsp/units.h"

#include <span>

namespace tripline::setup {

/// For how long, in a take in which the receiver speaks, the microphone hears in the voice band what no fixed path makes of
/// the receiver: 10 dB over the room, and more than a bent loudspeaker adds. A take in which the path grows longer or
/// shorter (two clocks, a loudspeaker carried about), or of less than 10 s, is judged by its levels alone.
/// The first 0.7 s are not looked at.
Duration stray_sound(std::span<const audio::Frame> frames, Hertz rate, Dbfs room);

}  // namespace tripline::setup
