// The receiver's recent past, block by block, as spectra.
#pragma once

#include "dsp/echo/layout.h"
#include "dsp/echo/real_fft.h"

#include <span>
#include <vector>

namespace tripline::dsp::echo {

/// Collects samples and keeps the spectrum of each block with the one before it
/// (overlap-save), newest first, one for every partition.
class ReceiverSpectra {
public:
    explicit ReceiverSpectra(const RealFft& fft) : fft_(fft), spectra_(partitions), powers_(partitions) {}

    /// True when the sample ends a block: the spectra are then one block newer.
    bool push(float sample) noexcept;

    /// The last `block` samples, newest last; valid between two pushes.
    std::span<const float, block> recent() const noexcept {
        return std::span<const float, block>(&samples_[filled_], block);
    }

    /// Spectrum of the block `age` blocks before the newest, and its power per bin.
    const Spectrum& spectrum(std::size_t age) const noexcept { return spectra_[index(age)]; }
    const Bins& power(std::size_t age) const noexcept { return powers_[index(age)]; }

    void reset() noexcept;

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        visit(samples_);
        visit(filled_, block + 1);
        for (Spectrum& spectrum : spectra_) spectrum.memory(visit);
        for (Bins& power : powers_) visit(power);
        visit(newest_, partitions);
    }

private:
    std::size_t index(std::size_t age) const noexcept {
        const std::size_t i = newest_ + age;
        return i < partitions ? i : i - partitions;
    }
    void transform() noexcept;

    const RealFft& fft_;
    std::array<float, 2 * block> samples_{};  // the block before, then the one being filled
    std::size_t filled_ = 0;
    std::vector<Spectrum> spectra_;
    std::vector<Bins> powers_;
    std::size_t newest_ = 0;
};

}  // namespace tripline::dsp::echo
