// Two samples side by side: the microphone and the receiver go through the same
// filters in the same instructions.
#pragma once

namespace tripline::dsp {

/// Lane 0 is the microphone, lane 1 the receiver. A compiler vector: arithmetic is per lane.
using Pair = float __attribute__((vector_size(8)));

inline Pair both(float value) noexcept { return Pair{value, value}; }

inline Pair larger(Pair a, Pair b) noexcept { return a > b ? a : b; }

}  // namespace tripline::dsp
