// How the power of a sound was spread over a while.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>

namespace tripline::dsp {

/// Counts powers in bins of about half a decibel, from -100 to +9 dBFS. At most 65,535 of
/// them, one call of take() each.
class LevelSpread {
public:
    void take(Power power) noexcept {
        ++counts_[bin(power)];
        ++taken_;
    }

    /// The power that a share of those taken did not exceed, and of those in `other` too;
    /// 0 when there are none.
    Power at(double share, const LevelSpread& other) const noexcept {
        const double wanted = share * (taken_ + other.taken_);
        double seen = 0;
        for (std::size_t i = 0; i < counts_.size(); ++i) {
            seen += counts_[i] + other.counts_[i];
            if (seen > 0 && seen >= wanted) return i == 0 ? 0 : upper_end(i);
        }
        return 0;
    }

    void clear() noexcept {
        counts_.fill(0);
        taken_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(counts_);
        visit(taken_);
    }

private:
    // The highest bits of a positive float, exponent and three of the mantissa, rise with it.
    static constexpr int dropped = 20;
    static constexpr std::int32_t lowest = (127 - 34) << 3;   // 2^-34 is -102 dBFS
    static constexpr std::int32_t bins = 37 * 8;

    /// Those of a negative one read as a negative number: the first bin.
    static std::size_t bin(Power power) noexcept {
        const std::int32_t top = std::bit_cast<std::int32_t>(power) >> dropped;
        return static_cast<std::size_t>(std::clamp(top, lowest, lowest + bins - 1) - lowest);
    }
    static Power upper_end(std::size_t bin) noexcept {
        return std::bit_cast<float>((static_cast<std::int32_t>(bin) + lowest + 1) << dropped);
    }

    std::array<std::uint16_t, bins> counts_{};
    std::uint32_t taken_ = 0;
};

}  // namespace tripline::dsp
