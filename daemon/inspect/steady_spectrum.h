// What is in one channel all the time.
#pragma once

#include "daemon/inspect/spectra.h"

#include <vector>

namespace tripline::inspect {

/// The geometric mean of each bin's power over all windows: a hum that stands counts whole,
/// a voice that comes and goes hardly at all.
class SteadySpectrum {
public:
    explicit SteadySpectrum(const Spectra& spectra) : spectra_(spectra), sum_(spectra.bins()) {}

    void take(const std::vector<std::complex<float>>& bins);

    long windows() const { return windows_; }
    double bin_hz() const { return spectra_.bin_hz(); }
    std::size_t bins() const { return sum_.size(); }
    /// Power of a bin; 0 before the first window.
    double power(std::size_t bin) const;

private:
    const Spectra& spectra_;
    std::vector<double> sum_;   ///< of the powers' logarithms
    long windows_ = 0;
};

}  // namespace tripline::inspect
