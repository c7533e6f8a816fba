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
    station::Reason began_by = station::Reason::none;  ///< why the station left rest; none: not in the recording
    dsp::Heard heard{};  ///< what the detector heard at that moment
    bool from_before = false;  ///< the key was closed when the recording began; then `decided` and `keyed` are that
};

/// Turns the events of an engine into spells. A start that never reaches the key is none.
class SpellBook {
public:
    explicit SpellBook(Hertz rate) : rate_(rate) {}

    /// The first event tells by what it left whether the key was closed before.
    void take(const station::Event& event);
    /// The key is closed when the recording begins. Before any event.
    void begin_on_air();
    /// The recording is over.
    void close(Frames end);

    const std::vector<Spell>& spells() const { return spells_; }

private:
    Hertz rate_;
    std::vector<Spell> spells_;
    Decision begun_;  ///< of the next one
    bool keyed_ = false;
    bool begun_yet_ = false;  ///< an event was taken, or begin_on_air() called
};

}  // namespace tripline::replay
