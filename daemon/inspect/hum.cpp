#include "daemon/inspect/hum.h"

#include <algorithm>
#include <cmath>

namespace tripline::inspect {
namespace {

constexpr int harmonics = 10;
constexpr double drift = 0.01;
constexpr double prominence = 10;      // ten times, 10 dB
constexpr double surroundings_hz = 18;
constexpr std::size_t lobe = 2;        // bins of a Hann window's main lobe, to each side

/// Mean of the bins around a line, the line itself left out.
double around(const SteadySpectrum& spectrum, std::size_t line) {
    const auto reach = static_cast<std::size_t>(surroundings_hz / spectrum.bin_hz());
    const std::size_t from = line > reach ? line - reach : 1;
    const std::size_t to = std::min(line + reach, spectrum.bins() - 1);
    double sum = 0;
    std::size_t count = 0;
    for (std::size_t k = from; k <= to; ++k) {
        if (k + lobe + 1 > line && k < line + lobe + 1) continue;
        sum += spectrum.power(k);
        ++count;
    }
    return count > 0 ? sum / static_cast<double>(count) : 0;
}

/// Power of a line near a frequency; 0 if none stands out.
double line_power(const SteadySpectrum& spectrum, double hz) {
    const double reach = drift * hz / spectrum.bin_hz() + 1;
    const auto from = static_cast<std::size_t>(std::max(1.0, std::floor(hz / spectrum.bin_hz() - reach)));
    const auto to = std::min(spectrum.bins() - lobe - 1,
                             static_cast<std::size_t>(std::ceil(hz / spectrum.bin_hz() + reach)));
    std::size_t best = from;
    for (std::size_t k = from; k <= to; ++k) {
        if (spectrum.power(k) > spectrum.power(best)) best = k;
    }
    double sum = 0;
    for (std::size_t k = best > lobe ? best - lobe : 1; k <= best + lobe; ++k) sum += spectrum.power(k);
    return spectrum.power(best) > prominence * around(spectrum, best) ? sum : 0;
}

Hum of_mains(const SteadySpectrum& spectrum, int mains_hz) {
    Hum hum;
    double sum = 0;
    double strongest = 0;
    for (int n = 1; n <= harmonics; ++n) {
        const double power = line_power(spectrum, n * mains_hz);
        sum += power;
        if (power <= strongest) continue;
        strongest = power;
        hum.mains_hz = mains_hz;
        hum.strongest_hz = n * mains_hz;
        hum.odd = n % 2 == 1;
    }
    hum.total = to_dbfs(static_cast<Power>(sum));
    return hum;
}

}  // namespace

Hum find_hum(const SteadySpectrum& spectrum) {
    const Hum fifty = of_mains(spectrum, 50);
    const Hum sixty = of_mains(spectrum, 60);
    return sixty.total > fifty.total ? sixty : fifty;
}

}  // namespace tripline::inspect
