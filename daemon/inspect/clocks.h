// Whether both channels are sampled by one clock.
#pragma once

#include "daemon/inspect/relation.h"
#include "dsp/echo/clock_watch.h"

namespace tripline::inspect {

/// Measures the delay of the sound they share again and again: between two clocks it moves
/// steadily one way. Needs half a minute with the receiver's sound.
class Clocks {
public:
    Clocks(const Spectra& spectra, Hertz rate) : spectra_(spectra), rate_(rate), relation_(spectra) {}

    void take(const Window& window);

    /// Of the receiver's clock less the microphone's.
    double apart_ppm() const { return watch_.differ() ? watch_.drift_ppm() : 0; }
    bool one() const { return !watch_.differ(); }

private:
    static constexpr int windows_a_stretch = 5;   // about 2 s

    const Spectra& spectra_;
    Hertz rate_;
    Relation relation_;
    int taken_ = 0;
    long windows_ = 0;
    dsp::echo::ClockWatch watch_;
};

}  // namespace tripline::inspect
