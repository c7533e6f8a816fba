// The figures of one hop in words.
#pragma once

#include "config/settings.h"
#include "dsp/heard.h"

#include <string>

namespace tripline::explain {

/// What the threshold stood on: the settings, the noise of the room, or its other sounds.
std::string threshold_in_words(const dsp::Measures& measures, const dsp::GateSettings& gate);

/// The threshold is held up by other sounds of the room: neither by its settings nor by the noise.
bool held_up_by_others(const dsp::Measures& measures, const dsp::GateSettings& gate);

/// All of the microphone's level is what the loudspeaker may leak: no threshold would let it pass.
bool leak_takes_all(const dsp::Measures& measures);

/// At least half of the microphone's power is what the loudspeaker may leak.
bool leak_takes_most(const dsp::Measures& measures);

/// Microphone, receiver's share, threshold and margin: three lines, indented.
std::string levels_in_words(const dsp::Measures& measures, const dsp::GateSettings& gate);

}  // namespace tripline::explain
