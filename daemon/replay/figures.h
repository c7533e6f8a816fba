// The figures of a score as they are shown.
#pragma once

#include "daemon/replay/score.h"

#include <optional>

namespace tripline::replay {

struct Distribution {
    double p50 = 0;
    double p95 = 0;
    double max = 0;
};

/// Of the durations in ms; none when there are none.
std::optional<Distribution> distribution_ms(const std::vector<Duration>& values);

/// What is sent of the front of each over: its onset, later by the relay time and earlier
/// by the look-ahead. Above zero: that much was cut off.
std::vector<Duration> on_air(const Score& score, const Timing& timing);

double lost_percent(const Score& score);
/// Of the overs that were caught.
double clipped_percent(const Score& score);

}  // namespace tripline::replay
