#include "dsp/voicing.h"

#include "dsp/one_pole.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

namespace {

constexpr double shortest_pitch = 0.0025;
constexpr double longest_pitch = 0.0125;
constexpr double window_seconds = 0.010;
constexpr std::size_t most_lags = 80;

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

void Voicing::take(Pair mean) noexcept {
    const Pair y = low_pass_b_(low_pass_a_(high_pass_(mean)));
    power_ += averaging_ * (2.0F * y * y - power_);
    odd_ = !odd_;
    if (odd_) return;
    past_[at_] = past_[at_ + kept] = y[0];
    at_ = (at_ + 1) % kept;
}

float Voicing::periodicity() const noexcept {
    const float* now = past_.data() + at_ + kept - window_;
    const float* then = now - longest_;
    const std::size_t lags = std::min(most_lags, longest_ - shortest_ + 1);

    std::array<float, most_lags> product{};
    std::array<float, most_lags> energy{};
    float own = 0;
    for (std::size_t i = 0; i < window_; ++i) {
        own += now[i] * now[i];
        for (std::size_t lag = 0; lag < lags; ++lag) {
            product[lag] += now[i] * then[i + lag];
            energy[lag] += then[i + lag] * then[i + lag];
        }
    }
    float best = 0;
    for (std::size_t lag = 0; lag < lags; ++lag) {
        if (product[lag] <= 0) continue;
        best = std::max(best, product[lag] * product[lag] / (own * energy[lag] + 1e-20F));
    }
    return std::sqrt(best);
}

}  // namespace tripline::dsp
