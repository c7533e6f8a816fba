#include "tests/scene/convolver.h"

#include <kiss_fftr.h>

#include <algorithm>
#include <array>

namespace tripline::scene {
namespace {

constexpr std::size_t size = 2 * Convolver::block;

}  // namespace

struct Convolver::Transforms {
    Transforms()
        : forward(kiss_fftr_alloc(static_cast<int>(size), 0, nullptr, nullptr)),
          back(kiss_fftr_alloc(static_cast<int>(size), 1, nullptr, nullptr)) {}
    ~Transforms() {
        kiss_fftr_free(forward);
        kiss_fftr_free(back);
    }
    Transforms(const Transforms&) = delete;
    Transforms& operator=(const Transforms&) = delete;

    void to_spectrum(const float* time, Spectrum& spectrum) const {
        std::array<kiss_fft_cpx, bins> mixed;
        kiss_fftr(forward, time, mixed.data());
        for (std::size_t k = 0; k < bins; ++k) {
            spectrum.real[k] = mixed[k].r;
            spectrum.imaginary[k] = mixed[k].i;
        }
    }
    void to_time(const Spectrum& spectrum, float* time) const {
        std::array<kiss_fft_cpx, bins> mixed;
        for (std::size_t k = 0; k < bins; ++k) mixed[k] = {spectrum.real[k], spectrum.imaginary[k]};
        kiss_fftri(back, mixed.data(), time);
    }

    kiss_fftr_cfg forward;
    kiss_fftr_cfg back;
};

Convolver::Convolver(const std::vector<float>& response)
    : transforms_(std::make_unique<Transforms>()), input_(size), output_(size) {
    for (std::size_t at = 0; at < std::max<std::size_t>(response.size(), 1); at += block) {
        std::vector<float> part(size);
        for (std::size_t i = 0; i < block && at + i < response.size(); ++i) part[i] = response[at + i];
        response_.emplace_back();
        transforms_->to_spectrum(part.data(), response_.back());
    }
    past_.resize(response_.size());
}

Convolver::~Convolver() = default;
Convolver::Convolver(Convolver&&) noexcept = default;

void Convolver::Spectrum::add_product(const Spectrum& a, const Spectrum& b) {
    Spectrum sum = *this;   // no other name for it, so the loop needs no check
    for (std::size_t k = 0; k < bins; ++k) {
        sum.real[k] += a.real[k] * b.real[k] - a.imaginary[k] * b.imaginary[k];
        sum.imaginary[k] += a.real[k] * b.imaginary[k] + a.imaginary[k] * b.real[k];
    }
    *this = sum;
}

void Convolver::turn() {
    newest_ = (newest_ + past_.size() - 1) % past_.size();
    transforms_->to_spectrum(input_.data(), past_[newest_]);
    Spectrum sum;
    for (std::size_t p = 0; p < response_.size(); ++p) sum.add_product(past_[(newest_ + p) % past_.size()], response_[p]);
    transforms_->to_time(sum, output_.data());
    std::copy(input_.begin() + block, input_.end(), input_.begin());
}

float Convolver::operator()(float in) {
    const float out = output_[block + at_] / static_cast<float>(size);
    input_[block + at_] = in;
    if (++at_ == block) {
        at_ = 0;
        turn();
    }
    return out;
}

}  // namespace tripline::scene
