#include "daemon/inspect/whistle.h"

#include <algorithm>
#include <cmath>

namespace tripline::inspect {
namespace {

constexpr double lowest_hz = 200;
constexpr double highest_share = 0.9;      // of half the rate
constexpr double highest_hum_hz = 610;     // below it, multiples of the mains are hum
constexpr double prominence = 100;         // 20 dB
constexpr double lowest_power = 1e-7;      // -70 dBFS
constexpr std::size_t lobe = 3;
constexpr std::size_t reach = 30;

bool is_hum(double hz) {
    if (hz > highest_hum_hz) return false;
    const auto near = [hz](double mains) {
        return std::abs(hz - mains * std::round(hz / mains)) <= 0.01 * hz + 1;
    };
    return near(50) || near(60);
}

}  // namespace

void Whistle::take(const std::vector<std::complex<float>>& bins) {
    const auto from = bins.begin() + static_cast<std::ptrdiff_t>(lowest_hz / spectra_.bin_hz());
    const auto to = bins.begin() + static_cast<std::ptrdiff_t>(highest_share * static_cast<double>(bins.size()));
    const auto best = std::max_element(from, to, [](auto a, auto b) { return std::norm(a) < std::norm(b); });
    const auto bin = static_cast<std::size_t>(best - bins.begin());
    const bool same = windows_ > 0 && bin + 1 >= last_bin_ && bin <= last_bin_ + 1;
    windows_ = stands_out(bins, bin) ? (same ? windows_ + 1 : 1) : 0;
    last_bin_ = bin;
    // The first and the last window it stands in are only partly filled by it.
    highest_ = windows_ > 1 ? std::max(highest_, level(bins, bin)) : level(bins, bin);
    const double seconds = static_cast<double>(windows_) * spectra_.hop_s();
    if (windows_ == 0 || seconds <= longest_.seconds) return;
    longest_ = {seconds, static_cast<double>(bin) * spectra_.bin_hz(), to_dbfs(static_cast<Power>(highest_))};
}

bool Whistle::stands_out(const std::vector<std::complex<float>>& bins, std::size_t bin) const {
    const double power = level(bins, bin);
    if (power < lowest_power || is_hum(static_cast<double>(bin) * spectra_.bin_hz())) return false;
    double around = 0;
    std::size_t count = 0;
    const std::size_t from = bin > reach ? bin - reach : 1;
    for (std::size_t k = from; k <= std::min(bin + reach, bins.size() - 1); ++k) {
        if (k + lobe > bin && k < bin + lobe) continue;
        around += spectra_.power(bins[k]);
        ++count;
    }
    return power * static_cast<double>(count) > prominence * around;
}

double Whistle::level(const std::vector<std::complex<float>>& bins, std::size_t bin) const {
    double sum = 0;
    for (std::size_t k = bin > 2 ? bin - 2 : 1; k <= std::min(bin + 2, bins.size() - 1); ++k) {
        sum += spectra_.power(bins[k]);
    }
    return sum;
}

}  // namespace tripline::inspect
