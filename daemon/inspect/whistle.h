// A tone that stands: acoustic feedback, an oscillation, a carrier.
#pragma once

#include "daemon/inspect/spectra.h"

namespace tripline::inspect {

/// Follows the strongest bin from window to window. No voice holds one pitch to 1.5 Hz for
/// seconds.
class Whistle {
public:
    explicit Whistle(const Spectra& spectra) : spectra_(spectra) {}

    void take(const std::vector<std::complex<float>>& bins);

    struct Tone {
        double seconds = 0;   ///< the longest, to half a window; 0: none
        double hz = 0;
        Dbfs level{-200};
    };
    const Tone& longest() const { return longest_; }

private:
    bool stands_out(const std::vector<std::complex<float>>& bins, std::size_t bin) const;
    double level(const std::vector<std::complex<float>>& bins, std::size_t bin) const;

    const Spectra& spectra_;
    std::size_t last_bin_ = 0;
    long windows_ = 0;     ///< in which it has stood
    double highest_ = 0;   ///< its power in the best of them
    Tone longest_;
};

}  // namespace tripline::inspect
