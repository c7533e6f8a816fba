// Where somebody speaks in a clean recording, by one fixed rule.
#pragma once

#include "dsp/units.h"

#include <span>
#include <vector>

namespace tripline::scene {

using std::chrono_literals::operator""ms;

struct Spurt {
    Duration onset{};
    Duration end{};
    bool operator==(const Spurt&) const = default;
};

/// Frames of 5 ms within 22 dB of the recording's active level (ITU-T P.56) are
/// speech; then spurts up to 15 ms are thrown away, then gaps up to 200 ms are filled,
/// after Brady, Bell System Technical Journal 44 (1965) 1-22.
std::vector<Spurt> find_spurts(std::span<const float> samples, Hertz rate, Dbfs active_level);

/// Sorted by onset; neighbours joined when no more than `gap` lies between them.
std::vector<Spurt> join(std::vector<Spurt> spurts, Duration gap);

}  // namespace tripline::scene
