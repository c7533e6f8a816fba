// Weights of one-pole smoothing.
#pragma once

#include "dsp/units.h"

namespace tripline::dsp {

/// Share of the old value left after `step` when it decays to 1/e in `constant`.
/// A constant of zero (or less) leaves nothing.
inline float decay_per_step(Duration constant, double step_seconds) {
    const double seconds = std::chrono::duration<double>(constant).count();
    return seconds > 0 ? static_cast<float>(std::exp(-step_seconds / seconds)) : 0.0F;
}

}  // namespace tripline::dsp
