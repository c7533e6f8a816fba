// What makes the guard small in the eyes of the kernel: memory locked, real-time
// priority asked for, privileges and system calls given up.
#pragma once

#include <string>

namespace tripline::guard {

/// Blocks every signal that can be blocked, so that none stops or ends the guard with a line
/// active, and returns a signalfd for SIGTERM, SIGINT and SIGQUIT. Throws std::system_error.
int take_signals();

/// Locks memory and asks for SCHED_FIFO `priority` (0: not). Returns what was refused,
/// empty when nothing was: a guard without it works, with a slower reaction under load.
std::string ask_for_speed(int priority);

/// Throws std::system_error with the present errno unless `done`.
void require(bool done, const char* what);

/// Ends with no privileges, no capabilities, and only the system calls the loop needs.
/// Throws std::system_error.
void confine();

}  // namespace tripline::guard
