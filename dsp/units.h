// Units as types: a decibel is not a frame, a frame is not a hertz.
#pragma once

#include <algorithm>
#include <chrono>
#include <cmath>
#include <compare>
#include <cstdint>

namespace tripline {

/// A ratio of two powers, in decibels.
struct Decibels {
    double value = 0.0;
    auto operator<=>(const Decibels&) const = default;
};

/// A level in dBFS as AES17 defines it: 0 dBFS is the rms of a full-scale sine.
/// (dBov of ITU-T P.56 is 3.01 dB lower for the same signal.)
struct Dbfs {
    double value = 0.0;
    auto operator<=>(const Dbfs&) const = default;
};

struct Hertz {
    double value = 0.0;
    auto operator<=>(const Hertz&) const = default;
};

/// A count of sample frames, or a position in a stream of them. Always 64 bits.
struct Frames {
    std::int64_t count = 0;
    auto operator<=>(const Frames&) const = default;
    constexpr Frames& operator+=(Frames other) { count += other.count; return *this; }
    constexpr Frames& operator-=(Frames other) { count -= other.count; return *this; }
    friend constexpr Frames operator+(Frames a, Frames b) { return {a.count + b.count}; }
    friend constexpr Frames operator-(Frames a, Frames b) { return {a.count - b.count}; }
};

using Duration = std::chrono::nanoseconds;

/// The one conversion from time to frames: to the nearest frame.
inline Frames to_frames(Duration duration, Hertz rate) {
    return {std::llround(std::chrono::duration<double>(duration).count() * rate.value)};
}

/// The one conversion from time to hops: to the nearest, and no fewer than `least`.
inline long to_hops(Duration duration, double hop_seconds, long least = 1) {
    return std::max(least, std::lround(std::chrono::duration<double>(duration).count() / hop_seconds));
}

inline Duration to_duration(Frames frames, Hertz rate) {
    return std::chrono::duration_cast<Duration>(
        std::chrono::duration<double>(static_cast<double>(frames.count) / rate.value));
}

/// Power of a signal relative to a full-scale sine: the mean of 2 x^2. 1.0 is 0 dBFS.
using Power = float;

inline double to_ratio(Decibels gain) { return std::pow(10.0, gain.value / 10.0); }
inline double to_amplitude(Decibels gain) { return std::pow(10.0, gain.value / 20.0); }
inline Power to_power(Dbfs level) { return static_cast<Power>(std::pow(10.0, level.value / 10.0)); }

/// Level of a power; anything under -200 dBFS, zero included, reads -200.
inline Dbfs to_dbfs(Power power) {
    return {power > 1e-20F ? 10.0 * std::log10(static_cast<double>(power)) : -200.0};
}

}  // namespace tripline
