// The plainest station around a detector that is compared with: hang time, relay time,
// receiver muted on the air, and a pause after it is opened again.
#pragma once

#include "tests/field/keyer.h"

#include <memory>

namespace tripline::field {

/// Says whether the operator speaks now.
class Listener {
public:
    virtual ~Listener() = default;
    virtual bool hear(const scene::Sample& sample) = 0;
};

class StationKeyer final : public Keyer {
public:
    StationKeyer(std::unique_ptr<Listener> listener, Hertz rate);

    void push(const scene::Sample& sample) override;
    station::Lines lines() const override { return {on_air_, on_air_, on_air_}; }
    std::vector<replay::Spell> finish() override;
    replay::Timing timing() const override;

private:
    void begin();
    void end();

    std::unique_ptr<Listener> listener_;
    Hertz rate_;
    std::vector<replay::Spell> spells_;
    Frames now_;
    Frames last_voice_;
    Frames deaf_until_;
    bool on_air_ = false;
};

}  // namespace tripline::field
