// What the detector has heard: the verdict of one hop and the figures behind it.
#pragma once

#include "dsp/units.h"

#include <cstdint>

namespace tripline::dsp {

/// Why the gate stands as it stands. One word each, printed in events as is.
enum class Cause : std::uint8_t {
    quiet,         ///< the microphone is under the threshold
    voice,         ///< speech above the threshold, qualified
    murmur,        ///< a voice's pitch under 900 Hz; the voice band does not show it yet
    qualifying,    ///< above the threshold, not long enough yet
    masked,        ///< above the plain threshold, explained by the receiver's leak
    blanked,       ///< the station's own relays or the unmuted receiver are settling
    withheld,      ///< loud enough, but the unmuted receiver has keyed the station of late
    not_speech,    ///< loud enough, but without the marks of speech
    steady,        ///< a steady tone or hum held the gate open; speech has syllables
    not_finite,    ///< a NaN or an infinity reset the chain
};

/// All levels are powers (see dsp/units.h) at the end of the hop.
struct Measures {
    Power microphone = 0;  ///< microphone envelope in the voice band
    Power receiver = 0;    ///< receiver envelope in the voice band
    Power leak = 0;        ///< receiver sound predicted at the microphone
    Power floor = 0;       ///< tracked noise floor of the microphone
    Power threshold = 0;   ///< what the microphone (less the leak) has to exceed
    Power remainder = 0;   ///< microphone less leak; above the threshold it opens
};

/// By how much the remainder is over the threshold, in dB; above 0 opens. Far below 0 for nothing.
inline float margin_db(const Measures& m) {
    return static_cast<float>(to_dbfs(m.remainder).value - to_dbfs(m.threshold).value);
}

/// The verdict of one hop.
struct Heard {
    bool voice = false;   ///< the gate is open: speech now
    bool held = false;    ///< voice, or the hang time after it
    Cause cause = Cause::quiet;
    int self_keyed = 0;   ///< spells in succession that the unmuted receiver began
    Measures measures;
};

}  // namespace tripline::dsp
