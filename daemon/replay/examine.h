// One recording, played and scored.
#pragma once

#include "daemon/replay/labels.h"
#include "daemon/replay/playback.h"
#include "daemon/replay/report.h"

#include <optional>
#include <string>

namespace tripline::replay {

/// Labels as they were read, and where from, for messages.
struct LabelSet {
    std::string origin;
    std::vector<Label> labels;
};

/// The operator's speech in a recording: the labels of its name (without folder and
/// extension) and its microphone channel. Throws std::runtime_error when the set has
/// labels but none for this recording, and when a label ends after the recording.
Spans operator_speech(const LabelSet& set, const RecordingSource& source, Duration length);

/// Where a recording has labels and none of them is on its microphone channel, so that nobody counts as speaking: that, in
/// a sentence. Else empty.
std::string labels_elsewhere(const LabelSet& set, const RecordingSource& source);

/// `recording` has been opened from `source` and not been read yet. With labels there is
/// a score. Throws as play() and operator_speech() do.
Result examine(Recording& recording, const RecordingSource& source, const station::Settings& settings,
               const std::optional<LabelSet>& labels, const Watch& watch);

}  // namespace tripline::replay
