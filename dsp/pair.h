// Two samples side by side: the microphone and the receiver go through the same
// filters in the same instructions.
#pragma once

namespace tripline::dsp {

/// Lane 0 is the microphone, lane 1 the receiver. A compiler vector: arithmetic is per lane.
using Pair = float __attribute__((vector_size(8)));
/// Two of them, in the size of every processor's vector registers.
using Quad = float __attribute__((vector_size(16)));

inline Pair both(float value) noexcept { return Pair{value, value}; }
inline Quad all(float value) noexcept { return Quad{value, value, value, value}; }

inline Quad quad(Pair low, Pair high) noexcept { return __builtin_shufflevector(low, high, 0, 1, 2, 3); }
inline Quad wide(Pair pair) noexcept { return quad(pair, Pair{}); }
inline Pair low(Quad quad) noexcept { return __builtin_shufflevector(quad, quad, 0, 1); }
inline Pair high(Quad quad) noexcept { return __builtin_shufflevector(quad, quad, 2, 3); }

inline Pair larger(Pair a, Pair b) noexcept { return a > b ? a : b; }
inline Quad larger(Quad a, Quad b) noexcept { return a > b ? a : b; }

}  // namespace tripline::dsp
