#include "dsp/speech_level.h"

#include <cmath>
#include <stdexcept>

namespace tripline::dsp {

namespace {

constexpr double time_constant = 0.03;
constexpr double hangover_seconds = 0.2;
constexpr double margin_db = 15.9;
constexpr double dbov_to_dbfs = 3.0102999566398120;
constexpr double silence = -200;

double decibels(double power) { return power > 1e-20 ? 10 * std::log10(power) : silence; }

/// Threshold number j, 0 to 14, as a level: 2^-15 to 2^-1 of full scale.
double threshold_dbov(std::size_t j) {
    return 20 * std::log10(2.0) * (static_cast<double>(j) - 15);
}

}  // namespace

SpeechLevel::SpeechLevel(Hertz rate)
    : smoothing_(1 - std::exp(-1 / (rate.value * time_constant))),
      hangover_(std::llround(rate.value * hangover_seconds)) {
    if (!(rate.value > 0)) throw std::invalid_argument("a speech level needs a rate above 0 Hz");
    reset();
}

void SpeechLevel::reset() noexcept {
    first_ = second_ = energy_ = 0;
    samples_ = 0;
    active_.fill(0);
    since_.fill(hangover_);
}

void SpeechLevel::push(float sample) noexcept {
    const double x = sample;
    energy_ += x * x;
    ++samples_;
    first_ += smoothing_ * (std::abs(x) - first_);
    second_ += smoothing_ * (first_ - second_);
    double threshold = 1.0 / 32768;
    for (std::size_t j = 0; j < threshold_count; ++j, threshold *= 2) {
        if (second_ >= threshold) since_[j] = 0;
        else if (since_[j] < hangover_) ++since_[j];
        else continue;
        ++active_[j];
    }
}

Dbfs SpeechLevel::active() const {
    double above_level = 0;
    double above_excess = 0;
    for (std::size_t j = 0; j < threshold_count; ++j) {
        if (active_[j] == 0) break;
        const double level = decibels(energy_ / static_cast<double>(active_[j]));
        const double excess = level - threshold_dbov(j);
        if (excess <= margin_db) {
            if (j == 0) break;
            const double share = (above_excess - margin_db) / (above_excess - excess);
            return {above_level + share * (level - above_level) + dbov_to_dbfs};
        }
        above_level = level;
        above_excess = excess;
    }
    return {silence};
}

Dbfs SpeechLevel::long_term() const {
    if (samples_ == 0) return {silence};
    const double level = decibels(energy_ / static_cast<double>(samples_));
    return {level <= silence ? silence : level + dbov_to_dbfs};
}

double SpeechLevel::activity() const {
    const double level = active().value;
    return level <= silence ? 0 : std::pow(10.0, (long_term().value - level) / 10);
}

}  // namespace tripline::dsp
