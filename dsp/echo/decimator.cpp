#include "dsp/echo/decimator.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tripline::dsp::echo {

namespace {

constexpr double pass = 3100;
constexpr double keep_clean = 3300;
constexpr double attenuation_db = 50;
constexpr double kaiser_beta = 0.1102 * (attenuation_db - 8.7);

/// Modified Bessel function of the first kind, order 0, by its power series.
double bessel(double x) {
    double sum = 1, term = 1;
    for (int k = 1; k < 30; ++k) {
        term *= (x / 2 / k) * (x / 2 / k);
        sum += term;
    }
    return sum;
}

/// Kaiser's design (Oppenheim and Schafer, Discrete-Time Signal Processing, 7.5.3).
std::vector<float> low_pass_taps(double rate, double out_rate) {
    const double stop = out_rate - keep_clean;
    const double width = 2 * std::numbers::pi * (stop - pass) / rate;
    const auto order = static_cast<int>(std::ceil((attenuation_db - 8) / (2.285 * width)));
    const double cut = (pass + stop) / rate;  // middle of the slope, 1.0 is half the rate
    std::vector<float> taps(static_cast<std::size_t>(order) + 1);
    std::vector<double> exact(taps.size());
    double sum = 0;
    for (int i = 0; i <= order; ++i) {
        const double t = i - order / 2.0;
        const double x = std::numbers::pi * cut * t;
        const double u = 2 * t / order;
        exact[static_cast<std::size_t>(i)] = cut * (std::abs(x) < 1e-9 ? 1 : std::sin(x) / x) *
                                             bessel(kaiser_beta * std::sqrt(1 - u * u)) /
                                             bessel(kaiser_beta);
        sum += exact[static_cast<std::size_t>(i)];
    }
    std::ranges::transform(exact, taps.begin(), [sum](double tap) { return static_cast<float>(tap / sum); });
    return taps;
}

}  // namespace

Decimator::Decimator(Hertz rate)
    : factor_(std::max<std::size_t>(1, static_cast<std::size_t>(rate.value / 8000))),
      rate_{rate.value / static_cast<double>(factor_)},
      taps_(factor_ > 1 ? low_pass_taps(rate.value, rate_.value) : std::vector<float>{1.0F}),
      line_(2 * taps_.size()) {}

bool Decimator::push(Pair sample) noexcept {
    const std::size_t n = taps_.size();
    at_ = at_ == 0 ? n - 1 : at_ - 1;
    line_[at_] = line_[at_ + n] = sample;
    if (++phase_ < factor_) return false;
    phase_ = 0;
    Pair sum{};
    for (std::size_t i = 0; i < n; ++i) sum += taps_[i] * line_[at_ + i];
    out_ = sum;
    return true;
}

void Decimator::reset() noexcept {
    std::ranges::fill(line_, Pair{});
    at_ = phase_ = 0;
    out_ = Pair{};
}

}  // namespace tripline::dsp::echo
