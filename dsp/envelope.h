// Power envelope of both inputs.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/one_pole.h"
#include "dsp/pair.h"

#include <algorithm>
#include <span>

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
    Pair operator()(Pair x) noexcept {
        average_ += attack_ * (2.0F * x * x - average_);
        peak_ = larger(average_, decay_ * peak_);
        return peak_;
    }

    /// A block. Bit for bit as one by one.
    void operator()(std::span<const Pair> block) noexcept {
        Quad average = wide(average_);
        Quad peak = wide(peak_);
        for (const Pair sample : block) {
            const Quad x = wide(sample);
            average += attack_ * (2.0F * x * x - average);
            peak = larger(average, decay_ * peak);
        }
        average_ = low(average);
        peak_ = low(peak);
    }

    Pair peak() const noexcept { return peak_; }
    /// The average alone, without the held peak.
    Pair average() const noexcept { return average_; }

    void reset() noexcept { average_ = peak_ = Pair{}; }
    template <typename Visit> void memory(Visit& visit) {
        visit(average_);
        visit(peak_);
    }

private:
    float attack_;
    float decay_;
    Pair average_{};
    Pair peak_{};
};

}  // namespace tripline::dsp
