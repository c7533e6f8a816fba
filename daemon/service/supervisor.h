// What systemd is told: ready, status, and the watchdog's food. Does nothing without it.
#pragma once

#include "dsp/units.h"

#include <string>

namespace tripline::service {

class Supervisor {
public:
    Supervisor();

    void ready() const;                            ///< once the station can key, or has said what it waits for
    void status(const std::string& text);          ///< sent when it changed
    void stopping() const;
    /// Sends a sign of life when one is due. Call only while all is well.
    void feed(Duration now);

private:
    std::string status_;
    Duration feed_every_{0};  ///< 0: no watchdog
    Duration fed_{0};
};

}  // namespace tripline::service
