// Fourier transform of two blocks of real samples, on the header-only kissfft.
#pragma once

#include "dsp/echo/layout.h"

#include <complex>
#include <memory>
#include <span>

namespace tripline::dsp::echo {

/// Between 2 x block samples and the bins 0 .. block-1. Bin 0 comes out as 0 and counts
/// as 0 going back: neither the constant part nor half the rate is in the voice band.
/// No heap after construction. Const calls share nothing: any thread.
class RealFft {
public:
    RealFft();
    ~RealFft();
    RealFft(const RealFft&) = delete;
    RealFft& operator=(const RealFft&) = delete;

    /// Not scaled: a bin's power grows with the number of samples.
    void forward(std::span<const float, 2 * block> samples, Spectrum& out) const noexcept;
    /// Undoes forward(), scale included.
    void inverse(const Spectrum& in, std::span<float, 2 * block> samples) const noexcept;

private:
    struct Plans;
    std::unique_ptr<const Plans> plans_;
    Spectrum twist_;
};

}  // namespace tripline::dsp::echo
