#include "tests/scene/convolver.h"

#include <kiss_fftr.h>

#include <algorithm>

namespace tripline::scene {
namespace {

constexpr std::size_t size = 2 * Convolver::block;
constexpr std::size_t bins = Convolver::block + 1;

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
        kiss_fftr(forward, time, reinterpret_cast<kiss_fft_cpx*>(spectrum.data()));
    }
    void to_time(const Spectrum& spectrum, float* time) const {
        kiss_fftri(back, reinterpret_cast<const kiss_fft_cpx*>(spectrum.data()), time);
    }

    kiss_fftr_cfg forward;
    kiss_fftr_cfg back;
};

Convolver::Convolver(const std::vector<float>& response)
    : transforms_(std::make_unique<Transforms>()), input_(size), output_(size) {
    for (std::size_t at = 0; at < std::max<std::size_t>(response.size(), 1); at += block) {
        std::vector<float> part(size);
        for (std::size_t i = 0; i < block && at + i < response.size(); ++i) part[i] = response[at + i];
        response_.emplace_back(bins);
        transforms_->to_spectrum(part.data(), response_.back());
    }
    past_.assign(response_.size(), Spectrum(bins));
}

Convolver::~Convolver() = default;
Convolver::Convolver(Convolver&&) noexcept = default;

void Convolver::turn() {
    newest_ = (newest_ + past_.size() - 1) % past_.size();
    transforms_->to_spectrum(input_.data(), past_[newest_]);
    Spectrum sum(bins);
    for (std::size_t p = 0; p < response_.size(); ++p) {
        const Spectrum& sound = past_[(newest_ + p) % past_.size()];
        for (std::size_t k = 0; k < bins; ++k) {
            const auto a = sound[k];
            const auto b = response_[p][k];
            sum[k] += std::complex<float>(a.real() * b.real() - a.imag() * b.imag(),
                                          a.real() * b.imag() + a.imag() * b.real());
        }
    }
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
