// Whether the channels of a recording look like what they are taken for.
#pragma once

#include "daemon/replay/recording.h"

#include <string>

namespace tripline::cli {

/// Where microphone and receiver look swapped, or are one and the same: that, and that `tripline inspect` tells more. Empty
/// where they do not, where there is no receiver, and of less than inspect wants. Reads `most` of it; throws as
/// replay::Recording does.
std::string channel_note(const replay::RecordingSource& source, Duration most = Duration::max());

}  // namespace tripline::cli
