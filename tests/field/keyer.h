// Anything that keys a station: ours, or one to compare with.
#pragma once

#include "daemon/replay/score.h"
#include "tests/scene/scene.h"

#include <vector>

namespace tripline::field {

class Keyer {
public:
    virtual ~Keyer() = default;

    /// Takes one frame.
    virtual void push(const scene::Sample& sample) = 0;
    /// The station mutes its receiver now.
    virtual bool mutes() const = 0;
    /// After the last frame.
    virtual std::vector<replay::Spell> finish() = 0;
    virtual replay::Timing timing() const = 0;
};

}  // namespace tripline::field
