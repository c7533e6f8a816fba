// Random numbers that are the same on every machine: the engine's bits are fixed by
// the C++ standard, the standard's distributions are not, so the transforms are ours.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <optional>
#include <random>
#include <utility>

namespace tripline::scene {

class Random {
public:
    explicit Random(std::uint64_t seed) : engine_(seed) {}

    /// In [0, 1), from the upper 53 bits.
    double uniform() { return static_cast<double>(engine_() >> 11) * 0x1p-53; }

    double between(double low, double high) { return low + (high - low) * uniform(); }

    /// In [0, count). Count is at least 1.
    std::size_t index(std::size_t count) {
        return static_cast<std::size_t>(uniform() * static_cast<double>(count));
    }

    /// Exponentially distributed with the given mean.
    double exponential(double mean) { return -mean * std::log1p(-uniform()); }

    /// Mean 0, variance 1 (Box and Muller; the second of the pair is kept for the next call).
    double normal() {
        if (spare_) return *std::exchange(spare_, std::nullopt);
        const double radius = std::sqrt(-2.0 * std::log1p(-uniform()));
        const double angle = 2.0 * std::numbers::pi * uniform();
        spare_ = radius * std::sin(angle);
        return radius * std::cos(angle);
    }

    /// A seed for another stream of numbers.
    std::uint64_t fork() { return engine_(); }

private:
    std::mt19937_64 engine_;
    std::optional<double> spare_;
};

}  // namespace tripline::scene
