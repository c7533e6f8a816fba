// Blocks through filter sections in series.
#pragma once

#include "dsp/biquad.h"
#include "dsp/pair.h"

#include <array>
#include <span>

namespace tripline::dsp {

/// Puts `in` through the sections, one after the other, into `out`, which is as long and may be the same. What comes
/// out, and what the sections remember, is to the bit what they make of it sample after sample; but
/// while one takes a sample, the next takes what that one made of the sample before, in the same
/// instructions.
void in_series(const std::array<Biquad*, 3>& sections, std::span<const Pair> in, std::span<Pair> out) noexcept;
void in_series(const std::array<Biquad*, 4>& sections, std::span<const Pair> in, std::span<Pair> out) noexcept;

}  // namespace tripline::dsp
