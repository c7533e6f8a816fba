// The active speech level of a recording.
#pragma once

#include "dsp/units.h"

#include <span>

namespace tripline::scene {

struct ActiveLevel {
    Dbfs level{-200};       ///< power while active, as dBFS (P.56 itself counts in dBov)
    double activity = 0;    ///< share of the time, 0 to 1
};

/// ITU-T P.56 method B: two-pole envelope of 30 ms, hangover 200 ms, margin 15.9 dB,
/// thresholds 2^-15 to 2^-1 of full scale.
ActiveLevel active_level(std::span<const float> samples, Hertz rate);

}  // namespace tripline::scene
