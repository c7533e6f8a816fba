#include "tests/scene/spurts.h"

#include <algorithm>
#include <cmath>

namespace tripline::scene {
namespace {

constexpr Duration frame_length = 5ms;
constexpr Duration shortest_spurt = 15ms;
constexpr Duration longest_gap = 200ms;
constexpr Decibels below_active{-22};

std::vector<Spurt> loud_frames(std::span<const float> samples, Hertz rate, Dbfs threshold) {
    std::vector<Spurt> spurts;
    const auto limit = static_cast<double>(to_power(threshold));
    for (std::int64_t index = 0;; ++index) {
        const auto first = static_cast<std::size_t>(to_frames(index * frame_length, rate).count);
        const auto last = static_cast<std::size_t>(to_frames((index + 1) * frame_length, rate).count);
        if (last > samples.size()) break;
        double energy = 0;
        for (std::size_t i = first; i < last; ++i) energy += 2.0 * samples[i] * samples[i];
        if (energy < limit * static_cast<double>(last - first)) continue;
        spurts.push_back({index * frame_length, (index + 1) * frame_length});
    }
    return join(std::move(spurts), Duration::zero());
}

}  // namespace

std::vector<Spurt> find_spurts(std::span<const float> samples, Hertz rate, Dbfs active_level) {
    auto spurts = loud_frames(samples, rate, Dbfs{active_level.value + below_active.value});
    std::erase_if(spurts, [](const Spurt& s) { return s.end - s.onset <= shortest_spurt; });
    return join(std::move(spurts), longest_gap);
}

std::vector<Spurt> join(std::vector<Spurt> spurts, Duration gap) {
    std::ranges::sort(spurts, {}, &Spurt::onset);
    std::vector<Spurt> joined;
    for (const Spurt& spurt : spurts) {
        if (!joined.empty() && spurt.onset - joined.back().end <= gap) {
            joined.back().end = std::max(joined.back().end, spurt.end);
        } else {
            joined.push_back(spurt);
        }
    }
    return joined;
}

}  // namespace tripline::scene
