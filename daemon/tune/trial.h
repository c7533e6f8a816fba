// Many settings against the same recordings.
#pragma once

#include "daemon/replay/examine.h"
#include "daemon/tune/map.h"

#include <functional>

namespace tripline::tune {

enum class Until { the_end, first_mistake };

/// What came of each of `settings`, in their order. Every setting goes through the same engine as
/// live sound, to the end or until its first mistake. Each recording is read once for all
/// settings; memory grows with their number, not with the recordings' length. `progress` gets
/// the share done, from any thread but one at a time; it may be empty. Throws what replaying
/// and reading labels throw.
std::vector<Trial> try_all(const std::vector<replay::RecordingSource>& recordings, const replay::LabelSet& labels,
                           const std::vector<station::Settings>& settings, Until until, unsigned workers,
                           const std::function<void(double)>& progress);

/// The same for a map: each until its first mistake that is sure, since the region without counts. If
/// none is without, all over again to the end, and `progress` with it from 0: none is then given up, and the fewest
/// mistakes count.
std::vector<Trial> explore(const std::vector<replay::RecordingSource>& recordings, const replay::LabelSet& labels,
                           const std::vector<station::Settings>& settings, unsigned workers,
                           const std::function<void(double)>& progress);

}  // namespace tripline::tune
