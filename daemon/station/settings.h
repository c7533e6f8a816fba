// Adjustments of the station logic and the audio path, with the defaults that ship.
#pragma once

#include "daemon/station/state.h"
#include "dsp/detector_settings.h"

namespace tripline::station {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

/// No lead, lag or settling time is longer; the guard refuses it too.
inline constexpr Duration longest_step = 1s;

/// Time a line needs after it goes active (lead) and after it goes to rest (lag)
/// before the next step may follow; 0 to longest_step each.
struct StepSettings {
    Duration lead = 0ms;
    Duration lag = 0ms;
    bool operator==(const StepSettings&) const = default;
};

struct SequenceSettings {
    StepSettings mute{5ms, 5ms};  ///< lag: antenna landed at receive to receiver open
    StepSettings antenna{20ms, 20ms};
    StepSettings ptt{15ms, 20ms};  ///< key closed to transmitter ready; key open to power gone
    Duration settle = 10ms;        ///< wait between the antenna relay's lead and the key
    bool operator==(const SequenceSettings&) const = default;
};

struct LimitSettings {
    /// 1 to 3600 s. 47 CFR 97.213(b): 3 minutes at most when a control link has failed.
    Duration longest_over = 180s;
    Duration quiet_to_clear = 2s;  ///< microphone quiet this long lifts the lock-out; 0 to 60 s
    bool operator==(const LimitSettings&) const = default;
};

struct TransmitAudioSettings {
    Duration look_ahead = 0ms;  ///< delay, up to 500 ms and not above the detector's hold
    Decibels gain{0};           ///< -60 to 60 dB
    Dbfs limit{-1};             ///< no sample leaves above this peak; -60 to 0 dBFS
    bool operator==(const TransmitAudioSettings&) const = default;
};

struct Settings {
    dsp::DetectorSettings detector;
    SequenceSettings sequence;
    LimitSettings limits;
    TransmitAudioSettings transmit_audio;
    /// Of the mute, 0 to 200 ms. So long passes at least before the antenna moves.
    Duration loudspeaker_fade = 5ms;
    Mode start_mode = Mode::armed;  ///< armed or safe: a station does not start up transmitting
    bool operator==(const Settings&) const = default;
};

}  // namespace tripline::station
