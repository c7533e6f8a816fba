// Levels as the station's ear has them.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/speech_level.h"
#include "dsp/voice_band.h"

namespace tripline::setup {

/// Mean power of both channels in the voice band.
class BandPower {
public:
    BandPower(const dsp::VoiceBandSettings& band, Hertz rate);

    void push(float microphone, float receiver);
    /// -200 for silence, or for nothing pushed.
    Dbfs microphone() const { return level(0); }
    Dbfs receiver() const { return level(1); }

private:
    Dbfs level(std::size_t channel) const;

    dsp::VoiceBand band_;
    std::int64_t settling_;   ///< frames until the filters have settled: not counted
    std::int64_t counted_ = 0;
    std::array<double, 2> energy_{};
};

/// Active level of the microphone's voice by ITU-T P.56, as it is and in the voice band.
class VoiceLevel {
public:
    VoiceLevel(const dsp::VoiceBandSettings& band, Hertz rate) : band_(band, rate), plain_(rate), in_band_(rate) {}

    void push(float microphone) {
        plain_.push(microphone);
        in_band_.push(band_(dsp::Pair{microphone, 0})[0]);
    }
    Dbfs plain() const { return plain_.active(); }
    Dbfs in_band() const { return in_band_.active(); }

private:
    dsp::VoiceBand band_;
    dsp::SpeechLevel plain_;
    dsp::SpeechLevel in_band_;
};

}  // namespace tripline::setup
