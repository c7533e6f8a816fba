// How far an echo model can be trusted.
#pragma once

namespace tripline::dsp::echo {

/// How far the model can be trusted, for display.
struct Trust {
    bool sure = false;           ///< the model guards; else the envelopes alone do
    bool clocks_differ = false;  ///< the inputs run on two clocks: the envelopes guard
    float confidence = 0;        ///< share of the microphone's power explained, 0 to 1, while
                                 ///< only the receiver sounds
    float reduction_db = 0;      ///< the same as echo return loss enhancement
    float delay_ms = 0;          ///< from receiver input to microphone input; valid when sure
    float drift_ppm = 0;         ///< of the receiver's clock against the microphone's
};

}  // namespace tripline::dsp::echo
