#include "tests/scene/active_level.h"

#include <array>
#include <cmath>
#include <cstdint>

namespace tripline::scene {
namespace {

constexpr std::size_t threshold_count = 15;
constexpr double margin_db = 15.9;
constexpr double sine_over_square_db = 3.0102999566398120;

struct Counts {
    std::array<std::int64_t, threshold_count> active{};
    double energy = 0;
};

double threshold(std::size_t index) { return std::ldexp(1.0, static_cast<int>(index) - 15); }

Counts count_active(std::span<const float> samples, Hertz rate) {
    const double keep = std::exp(-1.0 / (rate.value * 0.03));
    const auto hangover = static_cast<std::int64_t>(std::ceil(0.2 * rate.value));
    Counts counts;
    std::array<std::int64_t, threshold_count> since{};
    since.fill(hangover);
    double first = 0;
    double second = 0;
    for (const double sample : samples) {
        counts.energy += sample * sample;
        first = keep * first + (1 - keep) * std::abs(sample);
        second = keep * second + (1 - keep) * first;
        for (std::size_t j = 0; j < threshold_count; ++j) {
            since[j] = second >= threshold(j) ? 0 : since[j] + 1;
            counts.active[j] += since[j] < hangover ? 1 : 0;
        }
    }
    return counts;
}

}  // namespace

ActiveLevel active_level(std::span<const float> samples, Hertz rate) {
    const Counts counts = count_active(samples, rate);
    if (counts.energy <= 0) return {};
    const double total_db = 10 * std::log10(counts.energy / static_cast<double>(samples.size()));
    double level_db = total_db;
    double last_level = 0;
    double last_excess = 0;
    for (std::size_t j = 0; j < threshold_count && counts.active[j] > 0; ++j) {
        const double level = 10 * std::log10(counts.energy / static_cast<double>(counts.active[j]));
        const double excess = level - 20 * std::log10(threshold(j)) - margin_db;
        level_db = level;
        if (excess <= 0) {
            if (j > 0) {
                level_db = last_level + (level - last_level) * last_excess / (last_excess - excess);
            }
            break;
        }
        last_level = level;
        last_excess = excess;
    }
    return {Dbfs{level_db + sine_over_square_db}, std::pow(10.0, (total_db - level_db) / 10)};
}

}  // namespace tripline::scene
