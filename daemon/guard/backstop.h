// A second process with the same open lines that only waits for the guard to die or to stand
// still. A guard that hangs in a driver cannot be killed, and nobody else could open its devices.
#pragma once

#include "daemon/lines/bank.h"

namespace tripline::guard {

/// Forks, and returns the guard's end of a socket pair; the other process never returns. The
/// guard sends one byte before it makes a line active and at least every `beat` from then on;
/// it is 0 when all rest. When the bytes stop for `patience`, or with the guard, the backstop
/// kills what is left of the guard and drives every line to rest, in order and with `pauses`, and ends; at its end the guard finds
/// the socket closed. Throws std::system_error.
int start_backstop(lines::Bank& bank, const lines::RestPauses& pauses, int priority);

inline constexpr std::chrono::milliseconds beat{50}, patience{150};

}  // namespace tripline::guard
