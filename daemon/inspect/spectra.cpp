#include "daemon/inspect/spectra.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wshadow"
#include <kissfft/kissfft.hh>
#pragma GCC diagnostic pop

namespace tripline::inspect {
namespace {

using Bin = std::complex<float>;

constexpr double shortest_s = 0.6;

std::size_t size_for(Hertz rate) {
    return std::bit_ceil(static_cast<std::size_t>(std::ceil(rate.value * shortest_s)));
}

}  // namespace

struct Spectra::Plan {
    explicit Plan(std::size_t size) : fft(size, false), out(size), in(size) {}
    kissfft<float> fft;
    std::vector<Bin> out;
    std::vector<Bin> in;
};

Spectra::Spectra(Hertz rate)
    : rate_(rate), size_(size_for(rate)), plan_(std::make_unique<Plan>(size_)), shape_(size_), samples_(size_) {
    for (std::size_t i = 0; i < size_; ++i) {
        const double turn = 2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(size_);
        shape_[i] = static_cast<float>(0.5 - 0.5 * std::cos(turn));
    }
    window_.microphone.resize(bins());
    window_.receiver.resize(bins());
}

Spectra::~Spectra() = default;

bool Spectra::push(float microphone, float receiver) {
    samples_[filled_++] = {microphone, receiver};
    if (filled_ < size_) return false;
    transform();
    std::copy(samples_.begin() + static_cast<std::ptrdiff_t>(size_ / 2), samples_.end(), samples_.begin());
    filled_ = size_ / 2;
    return true;
}

// Two real channels as one complex: their spectra come apart by symmetry.
void Spectra::transform() {
    for (std::size_t i = 0; i < size_; ++i) plan_->in[i] = samples_[i] * shape_[i];
    plan_->fft.transform(plan_->in.data(), plan_->out.data());
    for (std::size_t k = 0; k < bins(); ++k) {
        const Bin a = plan_->out[k];
        const Bin b = std::conj(plan_->out[(size_ - k) % size_]);
        window_.microphone[k] = 0.5F * (a + b);
        window_.receiver[k] = Bin(0, -0.5F) * (a - b);
    }
}

double Spectra::power(Bin bin) const {
    // The Hann window's squares add up to 3/8 of its length.
    const double scale = 4.0 / (static_cast<double>(size_) * 0.375 * static_cast<double>(size_));
    return scale * static_cast<double>(std::norm(bin));
}

std::vector<float> lags_of(const std::vector<Bin>& cross, std::size_t size) {
    std::vector<Bin> in(size);
    std::vector<Bin> out(size);
    std::copy(cross.begin(), cross.end(), in.begin());
    for (std::size_t k = 1; k < size / 2; ++k) in[size - k] = std::conj(cross[k]);
    const kissfft<float> inverse(size, true);
    inverse.transform(in.data(), out.data());
    std::vector<float> lags(size);
    std::transform(out.begin(), out.end(), lags.begin(), [](Bin bin) { return bin.real(); });
    return lags;
}

}  // namespace tripline::inspect
