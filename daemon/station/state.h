// The states of the station, its modes and its lines. Everything here can be enumerated.
#pragma once

#include <array>
#include <cstdint>

namespace tripline::station {

enum class State : std::uint8_t {
    rest,                 ///< receive: every line at rest
    muting,               ///< receiver muted, waiting its lead
    antenna_to_transmit,  ///< antenna relay moving to transmit
    settling,             ///< relays bounced out; last wait before the key
    on_air,               ///< keyed, speech now
    hold,                 ///< keyed, hang time running
    unkeying,             ///< key open, transmitter's power falling
    antenna_to_receive,   ///< antenna relay moving to receive
    unmuting,             ///< antenna at receive, receiver still muted
    locked_out,  ///< at rest, until the microphone is quiet or a forced key is commanded anew
};
inline constexpr std::array all_states{
    State::rest, State::muting,   State::antenna_to_transmit, State::settling, State::on_air,
    State::hold, State::unkeying, State::antenna_to_receive,  State::unmuting, State::locked_out};

enum class Mode : std::uint8_t {
    armed,  ///< voice keys
    safe,   ///< nothing keys
    keyed,  ///< forced transmit, under the same time limit
};

/// Which roles are active. Plain bits: goes over the guard's socket as it is.
struct Lines {
    bool ptt = false;
    bool mute = false;
    bool antenna = false;
    bool operator==(const Lines&) const = default;
};

/// The lines are a pure function of the state: the one table of what is active when.
constexpr Lines lines_of(State state) {
    switch (state) {
        case State::rest:
        case State::locked_out: return {};
        case State::muting:
        case State::unmuting: return {.ptt = false, .mute = true, .antenna = false};
        case State::antenna_to_receive: return {.ptt = false, .mute = true, .antenna = false};
        case State::antenna_to_transmit:
        case State::settling:
        case State::unkeying: return {.ptt = false, .mute = true, .antenna = true};
        case State::on_air:
        case State::hold: return {.ptt = true, .mute = true, .antenna = true};
    }
    return {};
}

}  // namespace tripline::station
