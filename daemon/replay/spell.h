// What the station did in a recording: its keyed spells.
#pragma once

#include "daemon/replay/decision.h"
#include "daemon/station/event.h"
#include "daemon/station/settings.h"

#include <optional>
#include <vector>

namespace tripline::replay {

/// One time on the air.
struct Spell {
    Duration decided{};   ///< the station left rest
    Duration keyed{};     ///< the key closed
    Duration released{};  ///< the key opened, or the recording ended
    station::Reason reason = station::Reason::none;  ///< why it ended; none: with the recording
    station::Reason began_by = station::Reason::none;  ///< why the station left rest
    dsp::Heard heard{};  ///< what the detector heard at that moment
};

/// Turns the events of an engine into spells. A start that never reaches the key is none.
class SpellBook {
public:
    explicit SpellBook(Hertz rate) : rate_(rate) {}

    void take(const station::Event& event);
    /// The recording is over.
    void close(Frames end);

    const std::vector<Spell>& spells() const { return spells_; }

private:
    Hertz rate_;
    std::vector<Spell> spells_;
    Decision begun_;  ///< of the next one
    bool keyed_ = false;
};

}  // namespace tripline::replay
