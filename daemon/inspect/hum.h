// Hum of the mains.
#pragma once

#include "daemon/inspect/steady_spectrum.h"

namespace tripline::inspect {

struct Hum {
    int mains_hz = 0;      ///< 50 or 60; 0: none found
    Dbfs total{-200};      ///< of the fundamental and its harmonics
    int strongest_hz = 0;  ///< the strongest of them
    bool odd = true;       ///< the strongest is an odd multiple of the mains
};

/// Fundamental and harmonics to the tenth. The mains keep to 1 % (EN 50160: 50 Hz +- 1 % for
/// 99.5 % of a year); a line counts when it stands 10 dB above its surroundings.
Hum find_hum(const SteadySpectrum& spectrum);

}  // namespace tripline::inspect
