#include "daemon/setup/leak_path.h"

#include "daemon/setup/correlation.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;

constexpr Duration before = 100ms;
constexpr Duration length = 550ms;
constexpr Duration longest_shift = 20ms;
constexpr double loading = 1e-4;      // -40 dB of white noise at the receiver: bands that it does not have stay out
constexpr double stands_out = 4;      // times the rms of all shifts: 5 to 15 for one path, 3 for chance

double sum_of_products(std::span<const double> a, std::span<const double> b_from_the_end) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b_from_the_end[a.size() - 1 - i];
    return sum;
}

/// Solves sum over j of h[j] r[|i - j|] = c[i].
std::vector<double> levinson(const std::vector<double>& r, const std::vector<double>& c) {
    std::vector<double> h(c.size());
    if (!(r[0] > 0)) return h;
    std::vector<double> a{1};   // predicts the receiver from its past
    double error = r[0];
    h[0] = c[0] / r[0];
    for (std::size_t m = 1; m < c.size(); ++m) {
        const std::span now(r.begin() + 1, m);
        const double reflection = -sum_of_products(a, now) / error;
        const double wanted = c[m] - sum_of_products(std::span(h).first(m), now);
        a.push_back(0);
        for (std::size_t i = 0, j = m; i <= j; ++i, --j) {
            const double low = a[i] + reflection * a[j];
            a[j] += reflection * a[i];
            a[i] = low;
        }
        error *= 1 - reflection * reflection;
        const double gain = wanted / error;
        for (std::size_t i = 0; i <= m; ++i) h[i] += gain * a[m - i];
    }
    return h;
}

std::size_t samples(Duration duration, Hertz rate) { return static_cast<std::size_t>(to_frames(duration, rate).count); }

}  // namespace

LeakPath::LeakPath(std::span<const float> microphone, std::span<const float> receiver, Hertz rate)
    : rate_(rate), before_(samples(before, rate)) {
    std::vector<double> own = correlation(receiver, receiver, 0, samples(length, rate));
    own[0] *= 1 + loading;
    const auto h = levinson(own, correlation(microphone, receiver, -static_cast<std::ptrdiff_t>(before_), own.size()));
    taps_.assign(h.begin(), h.end());
}

std::vector<float> LeakPath::sound_of(std::span<const float> receiver) const { return filtered(receiver, taps_, before_); }

double LeakPath::shift_to(const LeakPath& other) const {
    const std::size_t most = samples(longest_shift, rate_);
    const auto alike = correlation(other.taps_, taps_, -static_cast<std::ptrdiff_t>(most), 2 * most + 1);
    const std::span within(alike.begin() + 1, alike.end() - 1);
    const auto best = static_cast<std::size_t>(std::ranges::max_element(within) - within.begin()) + 1;
    const double rms = std::sqrt(std::inner_product(alike.begin(), alike.end(), alike.begin(), 0.0) / static_cast<double>(alike.size()));
    if (!(alike[best] > stands_out * rms)) return 0;
    const double bend = alike[best - 1] - 2 * alike[best] + alike[best + 1];   // of a parabola through the highest three
    const double beside = bend < 0 ? 0.5 * (alike[best - 1] - alike[best + 1]) / bend : 0;
    return static_cast<double>(best) - static_cast<double>(most) + std::clamp(beside, -0.5, 0.5);
}

}  // namespace tripline::setup
