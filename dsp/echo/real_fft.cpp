#include "dsp/echo/real_fft.h"

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wshadow"
#include <kissfft/kissfft.hh>
#pragma GCC diagnostic pop

#include <numbers>

namespace tripline::dsp::echo {

using Bin = std::complex<float>;

struct RealFft::Plans {
    kissfft<float> forward{block, false};
    kissfft<float> inverse{block, true};
};

RealFft::RealFft() : plans_(std::make_unique<const Plans>()) {
    for (std::size_t k = 0; k < block; ++k) {
        const double angle = -std::numbers::pi * static_cast<double>(k) / static_cast<double>(block);
        twist_.re[k] = static_cast<float>(std::cos(angle));
        twist_.im[k] = static_cast<float>(std::sin(angle));
    }
}

RealFft::~RealFft() = default;

// A real block as half as many complex samples: the spectra of its even and odd samples
// come out entangled, and are taken apart by their symmetry.
void RealFft::forward(std::span<const float, 2 * block> samples, Spectrum& out) const noexcept {
    std::array<Bin, block> z;
    plans_->forward.transform(reinterpret_cast<const Bin*>(samples.data()), z.data());
    out.re[0] = out.im[0] = 0;
    for (std::size_t k = 1; k < block; ++k) {
        const Bin a = z[k];
        const Bin b = z[block - k];
        const float even_re = 0.5F * (a.real() + b.real());
        const float even_im = 0.5F * (a.imag() - b.imag());
        const float odd_re = 0.5F * (a.imag() + b.imag());
        const float odd_im = 0.5F * (b.real() - a.real());
        out.re[k] = even_re + odd_re * twist_.re[k] - odd_im * twist_.im[k];
        out.im[k] = even_im + odd_re * twist_.im[k] + odd_im * twist_.re[k];
    }
}

void RealFft::inverse(const Spectrum& in, std::span<float, 2 * block> samples) const noexcept {
    constexpr float scale = 0.5F / block;
    std::array<Bin, block> z;
    z[0] = 0;
    for (std::size_t k = 1; k < block; ++k) {
        const std::size_t m = block - k;
        const float even_re = scale * (in.re[k] + in.re[m]);
        const float even_im = scale * (in.im[k] - in.im[m]);
        const float turned_re = scale * (in.re[k] - in.re[m]);
        const float turned_im = scale * (in.im[k] + in.im[m]);
        const float odd_re = turned_re * twist_.re[k] + turned_im * twist_.im[k];
        const float odd_im = turned_im * twist_.re[k] - turned_re * twist_.im[k];
        z[k] = {even_re - odd_im, even_im + odd_re};
    }
    plans_->inverse.transform(z.data(), reinterpret_cast<Bin*>(samples.data()));
}

}  // namespace tripline::dsp::echo
