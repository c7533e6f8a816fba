// Bounds of the control socket: what a client can cost.
#pragma once

#include "dsp/units.h"

#include <cstddef>

namespace tripline::control {

using std::chrono_literals::operator""ms;

inline constexpr int protocol_version = 1;
inline constexpr std::size_t longest_line = 4096;            ///< without its end; a longer one ends the connection
inline constexpr std::size_t most_clients = 64;              ///< one more takes the place of another, see room.h
inline constexpr Duration time_to_speak = 250ms;             ///< a newcomer that has said nothing is spared for so long
inline constexpr std::size_t most_unsent = 256UL * 1024;     ///< a client that reads slower is dropped
inline constexpr int most_mistakes = 8;                      ///< then the connection ends
inline constexpr double lines_a_second = 50;                 ///< of one client
inline constexpr double lines_at_once = 100;
inline constexpr double changes_a_second = 5;                ///< of all clients; safe does not count
inline constexpr double changes_at_once = 20;
inline constexpr Duration answer_within = 500ms;             ///< else the change is void

}  // namespace tripline::control
