// The power of a sound, hop by hop.
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

namespace tripline::setup {

/// Mean power of each `length` samples; a rest at the end is left out. A power is the mean of 2 x².
inline std::vector<double> hop_powers(std::span<const float> samples, std::size_t length) {
    std::vector<double> powers;
    for (; samples.size() >= length; samples = samples.subspan(length)) {
        double sum = 0;
        for (const float x : samples.first(length)) sum += 2.0 * static_cast<double>(x) * static_cast<double>(x);
        powers.push_back(sum / static_cast<double>(length));
    }
    return powers;
}

}  // namespace tripline::setup
