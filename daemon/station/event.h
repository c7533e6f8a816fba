// What the engine tells: plain data, fit for a wait-free ring.
#pragma once

#include "daemon/station/state.h"
#include "dsp/heard.h"
#include "dsp/units.h"

#include <type_traits>

namespace tripline::station {

enum class EventKind : std::uint8_t {
    state,  ///< the station went from one state to another
    voice,  ///< the gate opened or closed
    mode,   ///< the operator's mode changed
    reset,  ///< a non-finite sample or state reset the chain
};

/// Why a state was entered.
enum class Reason : std::uint8_t {
    none,
    voice,        ///< the operator speaks
    silence,      ///< hang time over
    step,         ///< a lead or lag time ran out
    forced,       ///< mode keyed
    unkeyed,      ///< the operator ended a forced transmission
    safe,         ///< mode safe
    too_long,     ///< longest over reached
    lifted,       ///< lock-out over: the microphone was quiet, or the operator commanded anew
    steady_tone,  ///< keyed spell without syllables
    not_speech,   ///< what keyed turned out not to be speech
    fault,        ///< audio, guard or line fault
    not_finite,   ///< NaN or infinity in the chain
    reload,       ///< new settings
    refused,      ///< mode keyed is locked out until the operator commands it again
};

struct Event {
    Frames at{};  ///< frame after which it holds, from the stream's start
    EventKind kind = EventKind::state;
    State from = State::rest;
    State to = State::rest;
    Reason reason = Reason::none;
    Mode mode = Mode::armed;
    Lines lines{};
    dsp::Heard heard{};  ///< the verdict and the figures at that hop
};

static_assert(std::is_trivially_copyable_v<Event>);

/// Receives events inside the audio callback: must not block, allocate or throw.
class EventSink {
public:
    virtual void take(const Event& event) noexcept = 0;

protected:
    ~EventSink() = default;
};

}  // namespace tripline::station
