#include "dsp/voicing.h"

#include "dsp/biquad.h"

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
      longest_(samples(longest_pitch, kept_rate_)) {
    const Hertz inner{rate.value / summed_};
    const auto section = [](const BiquadCoefficients& c) {
        return Section{c.b0, c.b1, c.b2, c.a1, c.a2};
    };
    high_pass_ = section(high_pass(Hertz{90}, 0.7071, inner));
    low_pass_a_ = section(low_pass(Hertz{900}, 0.5412, inner));
    low_pass_b_ = section(low_pass(Hertz{900}, 1.3066, inner));
}

void Voicing::reset() noexcept {
    past_.fill(0);
    sum_ = 0;
    in_sum_ = 0;
    odd_ = false;
    at_ = 0;
    for (Section* section : {&high_pass_, &low_pass_a_, &low_pass_b_})
        section->s1 = section->s2 = 0;
}

void Voicing::take(float mean) noexcept {
    const float y = low_pass_b_(low_pass_a_(high_pass_(mean)));
    odd_ = !odd_;
    if (odd_) return;
    past_[at_] = past_[at_ + kept] = y;
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
