#include "daemon/setup/correlation.h"

#include <kissfft/kissfft.hh>

#include <algorithm>
#include <bit>
#include <complex>

namespace tripline::setup {
namespace {

using Spectrum = std::vector<std::complex<float>>;

/// Transforms there and back, of one size.
class Fourier {
public:
    explicit Fourier(std::size_t size) : samples_(size), there_(size, false), back_(size, true) {}

    std::size_t size() const { return samples_.size(); }

    /// Of `sound` from `from` on, `length` samples, with silence where it has none.
    Spectrum spectrum(std::span<const float> sound, std::ptrdiff_t from, std::size_t length) {
        std::ranges::fill(samples_, 0);
        const auto end = std::min(from + static_cast<std::ptrdiff_t>(length), static_cast<std::ptrdiff_t>(sound.size()));
        for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(from, 0); i < end; ++i)
            samples_[static_cast<std::size_t>(i - from)] = sound[static_cast<std::size_t>(i)];
        Spectrum out(size());
        there_.transform(samples_.data(), out.data());
        return out;
    }
    /// Not scaled: by size() too large.
    Spectrum samples(const Spectrum& spectrum) {
        Spectrum out(size());
        back_.transform(spectrum.data(), out.data());
        return out;
    }

private:
    Spectrum samples_;
    kissfft<float> there_;
    kissfft<float> back_;
};

std::size_t size_for(std::size_t count) { return std::bit_ceil(4 * count); }

}  // namespace

std::vector<double> correlation(std::span<const float> a, std::span<const float> b, std::ptrdiff_t first, std::size_t count) {
    Fourier fourier(size_for(count));
    const std::size_t step = fourier.size() - count;
    Spectrum sum(fourier.size());
    for (std::size_t at = 0; at < b.size(); at += step) {
        const auto begin = static_cast<std::ptrdiff_t>(at);
        const Spectrum one = fourier.spectrum(a, begin + first, fourier.size());
        const Spectrum other = fourier.spectrum(b, begin, step);
        for (std::size_t k = 0; k < sum.size(); ++k) sum[k] += one[k] * std::conj(other[k]);
    }
    const Spectrum lags = fourier.samples(sum);
    std::vector<double> out(count);
    for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<double>(lags[i].real()) / static_cast<double>(lags.size());
    return out;
}

std::vector<float> filtered(std::span<const float> sound, std::span<const float> taps, std::size_t first) {
    Fourier fourier(size_for(taps.size()));
    const std::size_t step = fourier.size() - taps.size();
    const Spectrum filter = fourier.spectrum(taps, 0, taps.size());
    std::vector<float> out(sound.size());
    for (std::size_t at = 0; at < out.size(); at += step) {
        const auto begin = static_cast<std::ptrdiff_t>(at + first) - static_cast<std::ptrdiff_t>(taps.size());
        Spectrum product = fourier.spectrum(sound, begin, fourier.size());
        for (std::size_t k = 0; k < product.size(); ++k) product[k] *= filter[k];
        const Spectrum all = fourier.samples(product);
        for (std::size_t i = 0; i < step && at + i < out.size(); ++i)
            out[at + i] = all[taps.size() + i].real() / static_cast<float>(fourier.size());
    }
    return out;
}

}  // namespace tripline::setup
