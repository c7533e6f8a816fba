// SIGTERM, SIGINT, SIGHUP, SIGUSR1 and SIGUSR2 as something to be polled, so that no handler runs anywhere.
#pragma once

#include "daemon/lines/descriptor.h"
#include "dsp/units.h"

namespace tripline::service {

/// Construct before any other thread starts: threads inherit the blocked signals.
class Signals {
public:
    /// Throws std::system_error.
    Signals();

    struct Caught {
        int stop = 0;         ///< SIGTERM or SIGINT; 0: neither
        bool reload = false;  ///< SIGHUP, however often
        bool safe = false;    ///< SIGUSR1
        bool arm = false;     ///< SIGUSR2; the order of the two is not known
    };
    /// Waits at most `longest`, then tells everything that has come since the last call.
    Caught wait(Duration longest) const;

private:
    lines::Descriptor descriptor_;
};

}  // namespace tripline::service
