// SIGTERM, SIGINT, SIGQUIT, SIGHUP, SIGTSTP, SIGCONT, SIGUSR1 and SIGUSR2 as something to be polled, so that no handler runs anywhere.
#pragma once

#include "daemon/lines/descriptor.h"
#include "dsp/units.h"

#include <cstdint>

namespace tripline::service {

/// Construct before any other thread starts: threads inherit the blocked signals.
class Signals {
public:
    /// What SIGHUP means: the service manager's word, or that the terminal has gone.
    enum class HangUp : std::uint8_t { reloads, stops };

    /// Throws std::system_error.
    explicit Signals(HangUp hang_up);

    struct Caught {
        int stop = 0;         ///< SIGTERM, SIGINT, SIGQUIT, or SIGHUP that stops; 0: none
        bool reload = false;  ///< SIGHUP that reloads, however often
        bool safe = false;    ///< SIGUSR1
        bool arm = false;     ///< SIGUSR2; the order of the two is not known
        bool suspend = false; ///< SIGTSTP, of a terminal
    };
    /// Waits at most `longest`, then tells everything that has come since the last call.
    Caught wait(Duration longest) const;
    /// Stands still as SIGTSTP asks for, until SIGCONT, and not at all when that has come since the last wait(); where no shell could send that, it goes on at once.
    static void stand_still();
    /// From now on the alarm (alarm(2)) ends the program with this status, as if it had come to its end.
    static void leave_at_alarm(int status);

private:
    HangUp hang_up_;
    lines::Descriptor descriptor_;
};

}  // namespace tripline::service
