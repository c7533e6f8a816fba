// A scene and a keyer that hears it and mutes its receiver.
#pragma once

#include "tests/field/keyer.h"

namespace tripline::field {

/// One over as it was caught.
struct Onset {
    Duration delay{};      ///< label onset to decision
    Decibels first_50_ms;  ///< level of the voice's first 50 ms, relative to its active level
};

struct Outcome {
    replay::Score score;
    std::vector<Onset> onsets;
    int short_ahead = 0;   ///< overs that would lose more than 0.5 % with a look-ahead of 60 ms and relays of no time
    replay::Timing timing;
};

/// Plays the scene to its end.
Outcome run(scene::Scene& scene, Keyer& keyer, Hertz rate, Dbfs voice);

}  // namespace tripline::field
