// Adjustments of the detector, with the defaults that ship.
#pragma once

#include "dsp/units.h"

namespace tripline::dsp {

using std::chrono_literals::operator""ms;

/// How the opening threshold is set.
enum class Threshold : unsigned char {
    fixed,     ///< at open
    floating,  ///< above the tracked noise floor, never under open
};

struct VoiceBandSettings {
    Hertz low{300};
    Hertz high{3000};
};

struct EnvelopeSettings {
    Duration attack = 2ms;    ///< 1/e time constant of the power detector
    Duration release = 20ms;  ///< 1/e time constant of the power detector
};

/// Anti-trip: how much of the receiver is expected at the microphone.
struct LeakSettings {
    bool enabled = true;
    Decibels coupling{-12};   ///< microphone level less receiver level
    Duration delay = 0ms;     ///< shortest path, monitor input to microphone
    Duration decay = 120ms;   ///< fall of the predicted leak by 1/e in power (room, buffers)
    bool muted_on_air = true; ///< the loudspeaker is silent while the station transmits
};

struct GateSettings {
    Threshold threshold = Threshold::floating;
    Dbfs open{-50};           ///< fixed threshold, or the lowest a floating one goes
    Decibels above_floor{9};  ///< floating: opens this far above the floor
    Decibels hysteresis{4};   ///< closes this far under the opening threshold
    Duration qualify = 8ms;   ///< shorter sounds are clicks
};

struct BlankingSettings {
    Duration relay = 30ms;    ///< after the station's own relays move
    Duration unmute = 150ms;  ///< after the receiver is unmuted
};

struct DetectorSettings {
    VoiceBandSettings band;
    EnvelopeSettings envelope;
    LeakSettings leak;
    GateSettings gate;
    Duration hold = 1500ms;   ///< hang time, retriggerable; 1-3 s in practice
    BlankingSettings blanking;
};

}  // namespace tripline::dsp
