// Which sound devices, and how.
#pragma once

#include "dsp/units.h"

#include <string>

namespace tripline::audio {

using std::chrono_literals::operator""ms;

struct Settings {
    std::string device;             ///< stable name of one duplex device; or, with monitor_device, of the microphone's
    std::string monitor_device;     ///< empty: the receiver is on the same device
    int microphone_channel = 1;     ///< counted from 1
    int receiver_channel = 2;       ///< 0: no receiver audio
    int transmitter_channel = 0;    ///< 0: no audio path to the transmitter
    int loudspeaker_channel = 0;    ///< 0: no audio path to the loudspeaker
    Hertz rate{48000};
    Duration latency = 10ms;
    Duration stall = 100ms;         ///< no callback for this long is a fault
    Duration lifeless = 150ms;      ///< inputs without any noise for so long are a fault; 0: never
    int priority = 70;              ///< SCHED_FIFO priority asked for; 0: do not ask

    bool operator==(const Settings&) const = default;
};

}  // namespace tripline::audio
