// One input, looked at from its first sample to its last.
#pragma once

#include "daemon/inspect/clip_counter.h"
#include "daemon/inspect/crackle_counter.h"
#include "daemon/inspect/finding.h"
#include "daemon/inspect/hum.h"
#include "daemon/inspect/level_meter.h"
#include "daemon/inspect/whistle.h"
#include "dsp/speech_level.h"

namespace tripline::inspect {

/// What the speech of an input should measure (ITU-T P.56), and what to turn if it does not.
struct Expected {
    std::string name;
    Dbfs lowest;
    Dbfs highest;
    std::string control;   ///< that sets its level
};

class Channel {
public:
    Channel(Expected expected, const Spectra& spectra, Hertz rate);

    void push(float sample);
    void take(const std::vector<std::complex<float>>& bins);

    /// Anything there at all.
    bool silent() const;
    /// Of a silent channel only that it is silent.
    void judge(Findings& findings) const;

private:
    double a_minute(long count) const;
    void judge_gain(Findings& findings) const;
    void judge_clipping(Findings& findings) const;
    void judge_constant(Findings& findings) const;
    void judge_hum(Findings& findings) const;
    void judge_whistle(Findings& findings) const;
    void judge_crackle(Findings& findings) const;

    Expected expected_;
    Hertz rate_;
    std::int64_t frames_ = 0;
    LevelMeter level_;
    dsp::SpeechLevel speech_;
    ClipCounter clips_;
    CrackleCounter crackles_;
    SteadySpectrum steady_;
    Whistle whistle_;
};

}  // namespace tripline::inspect
