// When the loudspeaker's sound first arrives, read off a model of its path.
#pragma once

#include "dsp/echo/path_filter.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp::echo {

/// Taps until the first one of at least half the largest's size, to a fraction of a tap
/// by a parabola through it and its neighbours. 0 for a path of nothing.
inline double arrival(const PathFilter& path) noexcept {
    const auto size = [&](std::size_t tap) { return std::abs(path.taps(tap / block)[tap % block]); };
    constexpr std::size_t last = partitions * block - 1;
    float largest = 0;
    for (std::size_t tap = 1; tap < last; ++tap) largest = std::max(largest, size(tap));
    if (!(largest > 0)) return 0;
    std::size_t first = 1;
    while (first + 1 < last && size(first) < 0.5F * largest) ++first;
    while (first + 1 < last && size(first + 1) > size(first)) ++first;
    const double before = size(first - 1);
    const double here = size(first);
    const double after = size(first + 1);
    const double bend = before - 2 * here + after;
    const double shift = bend < 0 ? 0.5 * (before - after) / bend : 0;
    return static_cast<double>(first) + std::clamp(shift, -0.5, 0.5);
}

}  // namespace tripline::dsp::echo
