// What systemd is told: ready, status, and the watchdog's food (sd_notify(3), whose own function
// waits for a manager that does not read). Does nothing without it.
#pragma once

#include "dsp/units.h"

#include <string>

namespace tripline::service {

/// For one thread. Nothing here waits: what the manager does not take now is told again with the next.
class Supervisor {
public:
    Supervisor();

    void ready();                                  ///< once the station can key, or has said what it waits for
    void status(const std::string& text);          ///< sent when it changed
    void stopping();
    /// Sends a sign of life when one is due. Call only while all is well.
    void feed(Duration now);

private:
    void tell(const std::string& text);

    std::string waiting_;
    std::string status_;
    Duration feed_every_{0};  ///< 0: no watchdog
    Duration fed_{0};
};

}  // namespace tripline::service
