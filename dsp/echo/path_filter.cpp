#include "dsp/echo/path_filter.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace tripline::dsp::echo {

namespace {

constexpr float first_uncertainty = 0.05F;  // of a bin of a partition: a path of about 0 dB
constexpr float noise_memory = 0.9F;        // per block
constexpr float least_noise = 1e-8F * block;
constexpr std::size_t turns = 7;            // blocks until every partition was projected
constexpr std::size_t strongest = 4;        // projected in every block besides
constexpr float sharing = 0.3F;             // per block
constexpr float shared_by_strength = 0.5F;

}  // namespace

PathFilter::PathFilter(const RealFft& fft, float forgetting, std::size_t turn)
    : fft_(fft),
      forgetting_(forgetting),
      first_turn_(turn),
      turn_(turn),
      path_(partitions),
      uncertainty_(partitions),
      taps_(partitions) {
    reset();
}

void PathFilter::reset(float gain) noexcept {
    std::ranges::fill(path_, Spectrum{});
    for (Bins& v : uncertainty_) v.fill(gain * first_uncertainty);
    for (auto& t : taps_) t.fill(0);
    strength_.fill(0);
    next_.fill(0);
    noise_.fill(0);
    turn_ = first_turn_;
}

void PathFilter::copy(const PathFilter& other) noexcept {
    std::ranges::copy(other.path_, path_.begin());
    std::ranges::copy(other.uncertainty_, uncertainty_.begin());
    std::ranges::copy(other.taps_, taps_.begin());
    strength_ = other.strength_;
    next_ = other.next_;
    noise_ = other.noise_;
    turn_ = other.turn_;
}

float PathFilter::predict(std::span<const float, block> recent, std::size_t at) const noexcept {
    // Four sums side by side: a fixed order that still fits vector registers.
    std::array<float, 4> sum{};
    const auto& taps = taps_[0];
    for (std::size_t i = 0; i < block; i += 4)
        for (std::size_t j = 0; j < 4; ++j) sum[j] += taps[i + j] * recent[block - 1 - i - j];
    return next_[at] + ((sum[0] + sum[1]) + (sum[2] + sum[3]));
}

void PathFilter::learn(const ReceiverSpectra& receiver, std::span<const float, block> errors) noexcept {
    expect(receiver);
    hear(errors);
    correct(receiver);
    project();
    share_uncertainty();
    prepare(receiver);
}

void PathFilter::expect(const ReceiverSpectra& receiver) noexcept {
    doubt_.fill(0);
    for (std::size_t p = 0; p < partitions; ++p) {
        const Bins& v = uncertainty_[p];
        const Bins& x = receiver.power(p);
        for (std::size_t k = 0; k < block; ++k) doubt_[k] += 0.5F * v[k] * x[k];
    }
}

void PathFilter::hear(std::span<const float, block> errors) noexcept {
    std::array<float, 2 * block> padded{};
    std::ranges::copy(errors, padded.begin() + block);
    fft_.forward(padded, error_);
    std::array<float, block + 2> power{};
    for (std::size_t k = 0; k < block; ++k)
        power[k + 1] = error_.re[k] * error_.re[k] + error_.im[k] * error_.im[k];
    for (std::size_t k = 0; k < block; ++k) {
        const float heard = 0.25F * power[k] + 0.5F * power[k + 1] + 0.25F * power[k + 2];
        const float unexplained = std::max(heard - doubt_[k], 0.05F * heard);
        noise_[k] = noise_memory * noise_[k] + (1 - noise_memory) * unexplained;
        trust_[k] = 1 / (doubt_[k] + std::max(noise_[k], unexplained) + least_noise);
    }
}

void PathFilter::correct(const ReceiverSpectra& receiver) noexcept {
    const float kept = 1 - forgetting_;
    for (std::size_t p = 0; p < partitions; ++p) {
        Spectrum& h = path_[p];
        Bins& v = uncertainty_[p];
        const Spectrum& x = receiver.spectrum(p);
        const Bins& x2 = receiver.power(p);
        Bins h2;
        for (std::size_t k = 0; k < block; ++k) {
            const float gain = v[k] * trust_[k];
            h.re[k] += gain * (x.re[k] * error_.re[k] + x.im[k] * error_.im[k]);
            h.im[k] += gain * (x.re[k] * error_.im[k] - x.im[k] * error_.re[k]);
            h2[k] = h.re[k] * h.re[k] + h.im[k] * h.im[k];
            v[k] = kept * (1 - 0.5F * gain * x2[k]) * v[k] + forgetting_ * h2[k];
        }
        strength_[p] = std::accumulate(h2.begin(), h2.end(), 0.0F);
    }
}

// Overlap-save holds only for paths of one block a partition. The rest is cut off in the
// time domain: in each block for the first partition and the strongest, for the others
// in turn.
void PathFilter::project() noexcept {
    std::array<float, partitions> ranked = strength_;
    std::ranges::nth_element(ranked, ranked.begin() + strongest, std::greater{});
    const float strong = ranked[strongest];
    for (std::size_t p = 0; p < partitions; ++p)
        if (p == 0 || strength_[p] > strong || (p + turn_) % turns == 0) project(p);
    ++turn_;
}

void PathFilter::project(std::size_t p) noexcept {
    std::array<float, 2 * block> samples;
    fft_.inverse(path_[p], samples);
    std::copy_n(samples.begin(), block, taps_[p].begin());
    std::fill(samples.begin() + block, samples.end(), 0.0F);
    fft_.forward(samples, path_[p]);
}

// Where the path has shown strength there is more left to learn: part of a bin's
// uncertainty moves between partitions in proportion to their amplitude.
void PathFilter::share_uncertainty() noexcept {
    std::array<float, partitions> share{};
    float total = 0;
    for (std::size_t p = 0; p < partitions; ++p) {
        const float before = p > 0 ? strength_[p - 1] : 0;
        const float after = p + 1 < partitions ? strength_[p + 1] : 0;
        share[p] = std::sqrt(0.5F * strength_[p] + 0.25F * (before + after));
        total += share[p];
    }
    if (!(total > 1e-6F)) return;
    Bins sum{};
    for (const Bins& v : uncertainty_)
        for (std::size_t k = 0; k < block; ++k) sum[k] += v[k];
    for (std::size_t p = 0; p < partitions; ++p) {
        const float part = sharing * ((1 - shared_by_strength) / partitions +
                                      shared_by_strength * share[p] / total);
        Bins& v = uncertainty_[p];
        for (std::size_t k = 0; k < block; ++k) v[k] = (1 - sharing) * v[k] + part * sum[k];
    }
}

void PathFilter::prepare(const ReceiverSpectra& receiver) noexcept {
    Spectrum y;
    for (std::size_t p = 1; p < partitions; ++p) {
        const Spectrum& h = path_[p];
        const Spectrum& x = receiver.spectrum(p - 1);
        for (std::size_t k = 0; k < block; ++k) {
            y.re[k] += h.re[k] * x.re[k] - h.im[k] * x.im[k];
            y.im[k] += h.re[k] * x.im[k] + h.im[k] * x.re[k];
        }
    }
    std::array<float, 2 * block> samples;
    fft_.inverse(y, samples);
    std::copy_n(samples.begin() + block, block, next_.begin());
}

}  // namespace tripline::dsp::echo
