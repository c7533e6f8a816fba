#include "dsp/echo/receiver_spectra.h"

#include <algorithm>

namespace tripline::dsp::echo {

bool ReceiverSpectra::push(float sample) noexcept {
    if (filled_ == block) {
        std::copy_n(samples_.begin() + block, block, samples_.begin());
        filled_ = 0;
    }
    samples_[block + filled_] = sample;
    if (++filled_ < block) return false;
    transform();
    return true;
}

void ReceiverSpectra::transform() noexcept {
    newest_ = newest_ == 0 ? partitions - 1 : newest_ - 1;
    fft_.forward(samples_, spectra_[newest_]);
    const Spectrum& x = spectra_[newest_];
    for (std::size_t k = 0; k < block; ++k)
        powers_[newest_][k] = x.re[k] * x.re[k] + x.im[k] * x.im[k];
}

void ReceiverSpectra::reset() noexcept {
    samples_.fill(0);
    filled_ = 0;
    newest_ = 0;
    std::ranges::fill(spectra_, Spectrum{});
    std::ranges::fill(powers_, Bins{});
}

}  // namespace tripline::dsp::echo
