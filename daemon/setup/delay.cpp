#include "daemon/setup/delay.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr double lowest_rate_hz = 8000;
constexpr Duration most = 20s;
constexpr Duration longest = 500ms;
constexpr double stands_out = 6;   // times the rms of the correlation over all delays

double rms(const std::vector<double>& values) {
    const double sum = std::accumulate(values.begin(), values.end(), 0.0, [](double s, double v) { return s + v * v; });
    return std::sqrt(sum / static_cast<double>(values.size()));
}

}  // namespace

Delay::Delay(Hertz rate)
    : factor_(std::max<std::size_t>(1, static_cast<std::size_t>(rate.value / lowest_rate_hz))),
      rate_{rate.value / static_cast<double>(factor_)} {}

void Delay::push(float microphone, float receiver) {
    if (microphone_.samples.size() >= static_cast<std::size_t>(to_frames(most, rate_).count)) return;
    const bool complete = ++in_sum_ == factor_;
    take(microphone_, microphone, complete);
    take(receiver_, receiver, complete);
    if (complete) in_sum_ = 0;
}

void Delay::take(Channel& channel, float sample, bool complete) const {
    channel.sum += sample;
    if (!complete) return;
    const float mean = channel.sum / static_cast<float>(factor_);
    channel.samples.push_back(mean - channel.last);
    channel.last = mean;
    channel.sum = 0;
}

std::optional<Duration> Delay::found() const {
    const auto lags = static_cast<std::size_t>(to_frames(longest, rate_).count);
    const auto& heard = microphone_.samples;
    const auto& played = receiver_.samples;
    if (heard.size() <= 2 * lags) return std::nullopt;
    std::vector<double> correlation(lags + 1);
    for (std::size_t lag = 0; lag <= lags; ++lag) {
        correlation[lag] = std::abs(std::inner_product(heard.begin() + static_cast<std::ptrdiff_t>(lag), heard.end(),
                                                       played.begin(), 0.0F));
    }
    const auto peak = std::ranges::max_element(correlation);
    if (!(*peak > stands_out * rms(correlation))) return std::nullopt;
    return to_duration({peak - correlation.begin()}, rate_);
}

}  // namespace tripline::setup
