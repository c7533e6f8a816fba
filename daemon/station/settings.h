// Adjustments of the station logic and the audio path, with the defaults that ship.
#pragma once

#include "daemon/station/state.h"
#include "dsp/detector_settings.h"

namespace tripline::station {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

/// Time a line needs after it goes active (lead) and after it goes to rest (lag)
/// before the next step may follow.
struct StepSettings {
    Duration lead = 0ms;
    Duration lag = 0ms;
};

struct SequenceSettings {
    StepSettings mute{5ms, 5ms};
    StepSettings antenna{20ms, 20ms};
    StepSettings ptt{15ms, 20ms};  ///< lead: key closed to transmitter ready; lag: key open to power gone
    Duration settle = 10ms;        ///< wait between the antenna relay's lead and the key
};

struct LimitSettings {
    Duration longest_over = 180s;   ///< 47 CFR 97.213(b): 3 minutes at most for a failed control link
    Duration quiet_to_clear = 2s;   ///< microphone quiet this long lifts the lock-out
};

struct TransmitAudioSettings {
    Duration look_ahead = 0ms;      ///< delay, up to 500 ms
    Decibels gain{0};
    Dbfs limit{-1};                 ///< no sample leaves above this
};

struct Settings {
    dsp::DetectorSettings detector;
    SequenceSettings sequence;
    LimitSettings limits;
    TransmitAudioSettings transmit_audio;
    Duration loudspeaker_fade = 5ms;
    Mode start_mode = Mode::armed;
};

}  // namespace tripline::station
