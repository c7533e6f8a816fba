// Long sums of products of two sounds, by way of the Fourier transform.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace tripline::setup {

/// For each lag from `first` on, `count` of them: the sum of a[i + lag] b[i] over all i for which there are both.
std::vector<double> correlation(std::span<const float> a, std::span<const float> b, std::ptrdiff_t first, std::size_t count);

/// What a filter of these taps makes of a sound, from `first` samples after its beginning on, as long as the sound.
std::vector<float> filtered(std::span<const float> sound, std::span<const float> taps, std::size_t first);

}  // namespace tripline::setup
