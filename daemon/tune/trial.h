// Many settings against the same recordings.
#pragma once

#include "daemon/replay/examine.h"
#include "daemon/tune/map.h"

#include <functional>

namespace tripline::tune {

/// Scores of all recordings added up, one for each of `settings`, in their order. Every setting
/// goes through the same engine as live sound. Each recording is read once a worker for all
/// settings; memory grows with their number, not with the recordings' length. `progress` gets
/// the share done, from any thread but one at a time; it may be empty. Throws what replaying
/// and reading labels throw.
std::vector<replay::Score> try_all(const std::vector<replay::RecordingSource>& recordings,
                                   const replay::LabelSet& labels,
                                   const std::vector<station::Settings>& settings, unsigned workers,
                                   const std::function<void(double)>& progress);

}  // namespace tripline::tune
