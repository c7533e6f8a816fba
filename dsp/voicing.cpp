#include "dsp/voicing.h"

#include "dsp/in_series.h"
#include "dsp/one_pole.h"

#include <algorithm>
#include <cmath>
#include <cstring>

namespace tripline::dsp {

namespace {

constexpr double shortest_pitch = 0.0025;
constexpr double longest_pitch = 0.0125;
constexpr double window_seconds = 0.010;
constexpr std::size_t most_lags = 80;

/// Lags that are looked at together.
constexpr std::size_t quads = 4;
constexpr std::size_t lanes = 4 * quads;

Quad loaded(const float* from) noexcept {
    Quad four;
    std::memcpy(&four, from, sizeof four);
    return four;
}

/// Of `lanes` lags, each with its own past from `then` on: what it has in common with now, and its energy.
void correlate(const float* now, const float* then, std::size_t window, float* product, float* energy) noexcept {
    std::array<Quad, quads> in_common{};
    std::array<Quad, quads> own{};
    for (std::size_t i = 0; i < window; ++i) {
        const Quad here = all(now[i]);
        for (std::size_t q = 0; q < quads; ++q) {
            const Quad there = loaded(then + i + 4 * q);
            in_common[q] += here * there;
            own[q] += there * there;
        }
    }
    std::memcpy(product, in_common.data(), sizeof in_common);
    std::memcpy(energy, own.data(), sizeof own);
}

std::size_t samples(double seconds, double rate) {
    return static_cast<std::size_t>(std::lround(seconds * rate));
}

}  // namespace

Voicing::Voicing(Hertz rate)
    : summed_(std::max(1, static_cast<int>(rate.value / 8000))),
      kept_rate_(rate.value / summed_ / 2),
      window_(samples(window_seconds, kept_rate_)),
      shortest_(samples(shortest_pitch, kept_rate_)),
      longest_(samples(longest_pitch, kept_rate_)),
      high_pass_(high_pass(Hertz{90}, 0.7071, Hertz{rate.value / summed_})),
      low_pass_a_(low_pass(Hertz{900}, 0.5412, Hertz{rate.value / summed_})),
      low_pass_b_(low_pass(Hertz{900}, 1.3066, Hertz{rate.value / summed_})),
      share_(1.0F / static_cast<float>(summed_)),
      averaging_(1 - decay_per_step(std::chrono::milliseconds{4}, summed_ / rate.value)) {}

void Voicing::reset() noexcept {
    past_.fill(0);
    sum_ = power_ = Pair{};
    in_sum_ = 0;
    odd_ = false;
    at_ = 0;
    for (Biquad* section : {&high_pass_, &low_pass_a_, &low_pass_b_}) section->reset();
}

void Voicing::push(std::span<const Pair> block) noexcept {
    before_ = now();
    summed_before_ = static_cast<std::size_t>(in_sum_);
    odd_before_ = odd_;
    std::array<Pair, most> means;
    std::size_t count = 0;
    Quad sum = wide(sum_);
    int in_sum = in_sum_;
    for (const Pair sample : block) {
        sum += wide(sample);
        if (++in_sum < summed_) continue;
        means[count++] = low(share_ * sum);
        sum = Quad{};
        in_sum = 0;
    }
    sum_ = low(sum);
    in_sum_ = in_sum;
    take(std::span(means).first(count));
}

void Voicing::take(std::span<Pair> means) noexcept {
    in_series(
        std::array{&high_pass_, &low_pass_a_, &low_pass_b_}, means.size(), [&](std::size_t i) { return means[i]; },
        [&](std::size_t i, Pair passed) { means[i] = passed; });
    Quad power = wide(power_);
    for (std::size_t i = 0; i < means.size(); ++i) {
        const Quad y = wide(means[i]);
        power += averaging_ * (2.0F * y * y - power);
        powers_[i] = low(power);
    }
    power_ = low(power);
    for (std::size_t i = odd_ ? 0 : 1; i < means.size(); i += 2) {
        past_[at_] = past_[at_ + kept] = means[i][0];
        at_ = (at_ + 1) % kept;
    }
    odd_ = odd_ != (means.size() % 2 == 1);
}

Voicing::Moment Voicing::after(std::size_t samples) const noexcept {
    const std::size_t means = (summed_before_ + samples) / static_cast<std::size_t>(summed_);
    if (means == 0) return before_;
    return {powers_[means - 1], (before_.place + (odd_before_ + means) / 2) % kept};
}

float Voicing::periodicity(std::size_t place) const noexcept {
    const float* now = past_.data() + place + kept - window_;
    const float* then = now - longest_;
    const std::size_t lags = std::min(most_lags, longest_ - shortest_ + 1);

    std::array<float, most_lags + lanes> product;
    std::array<float, most_lags + lanes> energy;
    for (std::size_t lag = 0; lag < lags; lag += lanes) {
        correlate(now, then + lag, window_, product.data() + lag, energy.data() + lag);
    }
    float own = 0;
    for (std::size_t i = 0; i < window_; ++i) own += now[i] * now[i];
    float best = 0;
    for (std::size_t lag = 0; lag < lags; ++lag) {
        if (product[lag] <= 0) continue;
        best = std::max(best, product[lag] * product[lag] / (own * energy[lag] + 1e-20F));
    }
    return std::sqrt(best);
}

}  // namespace tripline::dsp
