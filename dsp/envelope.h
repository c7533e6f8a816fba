// Power envelope of both inputs.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/one_pole.h"
#include "dsp/pair.h"

#include <algorithm>

namespace tripline::dsp {

/// A one-pole average of the power with the attack as its time constant, held by a
/// peak that decays with the release. Both constants are to 1/e in power. With equal
/// constants it is the plain exponential detector of a sound level meter; a release
/// shorter than the attack counts as equal to it.
class Envelope {
public:
    Envelope(const EnvelopeSettings& settings, Hertz rate)
        : attack_(1 - decay_per_step(settings.attack, 1 / rate.value)),
          decay_(decay_per_step(settings.release, 1 / rate.value)) {}

    /// Samples in, powers out (1.0 is a full-scale sine).
    Pair operator()(Pair sample) noexcept {
        const Quad x = wide(sample);
        average_ += attack_ * (2.0F * x * x - average_);
        peak_ = larger(average_, decay_ * peak_);
        return peak();
    }

    Pair peak() const noexcept { return low(peak_); }
    /// The average alone, without the held peak.
    Pair average() const noexcept { return low(average_); }

    void reset() noexcept { average_ = peak_ = Quad{}; }
    template <typename Visit> void memory(Visit& visit) {
        for (Quad* power : {&average_, &peak_}) {
            Pair both_inputs = low(*power);
            visit(both_inputs);
            *power = wide(both_inputs);
        }
    }

private:
    float attack_;
    float decay_;
    Quad average_{};  // its low half
    Quad peak_{};
};

}  // namespace tripline::dsp
