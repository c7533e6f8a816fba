// Anything that keys a station: ours, or one to compare with.
#pragma once

#include "daemon/replay/score.h"
#include "daemon/station/state.h"
#include "tests/scene/scene.h"

#include <vector>

namespace tripline::field {

class Keyer {
public:
    virtual ~Keyer() = default;

    /// Takes one frame.
    virtual void push(const scene::Sample& sample) = 0;
    /// Which relays the station has moved.
    virtual station::Lines lines() const = 0;
    /// After the last frame.
    virtual std::vector<replay::Spell> finish() = 0;
    virtual replay::Timing timing() const = 0;
};

}  // namespace tripline::field
