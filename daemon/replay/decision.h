// The moment at which the station set out for the key, and its figures in words.
#pragma once

#include "daemon/station/event.h"

#include <string>

namespace tripline::replay {

/// From a station's events, in order: when it last left rest for the key, or turned round to it. For one thread.
class Decision {
public:
    void take(const station::Event& event);

    Frames at{};
    station::Reason why = station::Reason::none;
    dsp::Heard heard{};   ///< at that moment
};

/// Something was left of the microphone to hold against the threshold.
bool has_margin(const dsp::Measures& measures);

/// "voice (murmur): microphone -39.7 dBFS, threshold -50.0 dBFS, margin 8.4 dB"; "nothing left to compare
/// with it" where there is no margin. A forced key was not heard, so it has no figures: "forced".
std::string in_words(station::Reason why, const dsp::Heard& heard);

}  // namespace tripline::replay
