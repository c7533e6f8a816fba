// A constant gain.
#pragma once

#include "dsp/units.h"

namespace tripline::dsp {

class Gain {
public:
    explicit Gain(Decibels gain) : factor_(static_cast<float>(to_amplitude(gain))) {}

    float operator()(float sample) const noexcept { return factor_ * sample; }

private:
    float factor_;
};

}  // namespace tripline::dsp
