#include "daemon/inspect/steady_spectrum.h"

#include <cmath>

namespace tripline::inspect {

namespace {
constexpr double nothing = 1e-20;   // -200 dBFS
}

void SteadySpectrum::take(const std::vector<std::complex<float>>& bins) {
    for (std::size_t k = 0; k < sum_.size(); ++k) sum_[k] += std::log(spectra_.power(bins[k]) + nothing);
    ++windows_;
}

double SteadySpectrum::power(std::size_t bin) const {
    return windows_ > 0 ? std::exp(sum_[bin] / static_cast<double>(windows_)) : 0;
}

}  // namespace tripline::inspect
