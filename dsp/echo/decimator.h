// Both inputs at the rate the echo is modelled at.
#pragma once

#include "dsp/pair.h"
#include "dsp/units.h"

#include <vector>

namespace tripline::dsp::echo {

/// Keeps every n-th sample behind a linear-phase low-pass (Kaiser window): flat to
/// 3.1 kHz, 50 dB down from where aliases would fall below 3.3 kHz. n is the largest
/// that leaves at least 8 kHz; at 1 there is no filter. Delay: about 1 ms at 48 kHz.
class Decimator {
public:
    explicit Decimator(Hertz rate);

    /// Rate of the samples that come out, 8 to 16 kHz.
    Hertz rate() const noexcept { return rate_; }

    /// Takes a sample of the voice band; true when out() is new.
    bool push(Pair sample) noexcept;
    Pair out() const noexcept { return out_; }

    void reset() noexcept;

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        for (Pair& sample : line_) visit(sample);
        visit(at_, taps_.size());
        visit(phase_, factor_);
        visit(out_);
    }

private:
    std::size_t factor_;
    Hertz rate_;
    std::vector<float> taps_;
    std::vector<Pair> line_;  // twice the length: a window is always contiguous
    std::size_t at_ = 0;
    std::size_t phase_ = 0;
    Pair out_{};
};

}  // namespace tripline::dsp::echo
