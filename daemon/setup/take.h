// One take of a session's step, and what is wrong with it.
#pragma once

#include "daemon/audio/frame.h"
#include "daemon/setup/step.h"
#include "daemon/setup/survey.h"

#include <span>
#include <string>
#include <vector>

namespace tripline::setup {

using audio::Frame;

struct Take {
    Frames begin;                ///< in the session's sound
    std::vector<Frame> frames;
};

/// The mean level of each channel as it is, and its highest sample. -200 for silence.
struct TakeLevels {
    Dbfs microphone{-200};
    Dbfs receiver{-200};
    Dbfs microphone_peak{-200};
    Dbfs receiver_peak{-200};
};

TakeLevels levels_of(std::span<const Frame> frames);
/// The same with the mean levels in the voice band: free of DC, and of hum almost.
TakeLevels levels_in_band(std::span<const Frame> frames, Hertz rate);

/// A sentence with its cure for each thing that would spoil the measurement: nothing heard, a wrong gain,
/// clipping, hum, DC, a whistle, swapped or equal channels, the wrong channel for this step, somebody who speaks
/// in the room's take or the receiver's. Empty: none.
/// `room` is the room's take in the voice band, if there is one: louder than that is heard.
std::vector<std::string> troubles(Step step, const Take& take, Hertz rate, const TakeLevels* room);

/// Of all takes in a recording, each sentence with its step before it. Of a stretch the first two
/// minutes are looked at. Throws as Recording does.
std::vector<std::string> troubles(const replay::RecordingSource& source, const Stretches& stretches);

}  // namespace tripline::setup
