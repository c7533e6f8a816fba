// Real human speech as a file for the pretended card.
#pragma once

#include <string>

namespace tripline::live {

/// One talker without a pause longer than the hang time, 20 s or more, -26 dBFS active
/// level, 48 kHz; the receiver is silent. Throws std::runtime_error when no speech
/// package is installed.
void write_speech(const std::string& path);

/// A minute of overs between the operator and the far station, with room noise and the
/// loudspeaker's leak 12 dB below the voice, 48 kHz. Returns the operator's overs.
std::size_t write_conversation(const std::string& path_without_extension);

}  // namespace tripline::live
