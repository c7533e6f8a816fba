#include "daemon/inspect/relation.h"

#include <algorithm>
#include <cmath>

namespace tripline::inspect {
namespace {

constexpr double lowest_hz = 300;
constexpr double highest_hz = 3000;
constexpr double lowest_power = 1e-6;   // -60 dBFS in the voice band: else there is nothing to follow
constexpr double longest_path_s = 0.2;
constexpr double prominence = 10;       // over the rms of all lags

}  // namespace

bool Relation::take(const Window& window) {
    const auto from = static_cast<std::size_t>(lowest_hz / spectra_.bin_hz());
    const auto to = std::min(cross_.size(), static_cast<std::size_t>(highest_hz / spectra_.bin_hz()));
    double microphone = 0;
    double receiver = 0;
    for (std::size_t k = from; k < to; ++k) {
        microphone += spectra_.power(window.microphone[k]);
        receiver += spectra_.power(window.receiver[k]);
    }
    if (microphone < lowest_power || receiver < lowest_power) return false;
    for (std::size_t k = from; k < to; ++k) {
        const auto both = window.microphone[k] * std::conj(window.receiver[k]);
        const float size = std::abs(both);
        if (size > 0) cross_[k] += both / size;
    }
    return true;
}

double Relation::correlation() const {
    const double scale = std::sqrt(microphone_energy_ * receiver_energy_);
    return scale > 0 ? product_ / scale : 0;
}

std::optional<Duration> Relation::microphone_later(Hertz rate) const {
    const auto lags = lags_of(cross_, spectra_.size());
    const auto longest = static_cast<std::ptrdiff_t>(longest_path_s * rate.value);
    const auto size = static_cast<std::ptrdiff_t>(lags.size());
    double energy = 0;
    for (const float lag : lags) energy += static_cast<double>(lag) * lag;
    std::ptrdiff_t best = 0;
    double highest = 0;
    for (std::ptrdiff_t lag = -longest; lag <= longest; ++lag) {
        const double value = std::abs(lags[static_cast<std::size_t>((lag + size) % size)]);
        if (value <= highest) continue;
        highest = value;
        best = lag;
    }
    if (highest <= prominence * std::sqrt(energy / static_cast<double>(size))) return std::nullopt;
    return to_duration({best}, rate);
}

}  // namespace tripline::inspect
