// How much of a predicted leak was really there, measured while nobody speaks.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tripline::dsp::echo {

/// The ratio of what is left at the microphone to a prediction of it: twice a high
/// quantile over the last stretches in which the receiver sounded and the gate was shut.
/// Kept apart by level, in steps of 6 dB: a loudspeaker distorts more when it is loud,
/// and the room's noise is a larger part when it is soft.
class Share {
public:
    /// `growth` is how much more of a sound 6 dB louder may be left.
    Share(double hop_seconds, float growth)
        : growth_(growth), hops_a_stretch_(std::max(1L, std::lround(stretch_seconds / hop_seconds))) {}

    /// One call a hop in which only the receiver sounds.
    void operator()(Power left, Power predicted) noexcept {
        const float ratio = left / predicted;
        if (ratio > highest_) {
            highest_ = ratio;
            level_ = level_of(predicted);
        }
        if (++hops_ < hops_a_stretch_) return;
        levels_[level_].add(highest_, ++now_);
        stretches_ = std::min(stretches_ + 1, needed);
        interrupt();
    }

    /// Somebody speaks: the stretch that was being measured does not count.
    void interrupt() noexcept {
        highest_ = 0;
        hops_ = 0;
    }

    /// True once enough has been heard to go by.
    bool known() const noexcept { return stretches_ >= needed; }

    /// The share at a level of the prediction. It can be no more than the levels heard of
    /// late let expect: distortion grows by no more than a set factor a step up, and the
    /// share of a constant noise by 6 dB a step down. So a level not heard for long does not stand in the way.
    float at(Power predicted) const noexcept {
        const std::size_t wanted = level_of(predicted);
        float share = levels_[wanted].known() ? levels_[wanted].share : unheard;
        float up = 1, down = 1;
        for (std::size_t away = 1; away < levels; ++away) {
            up *= growth_;
            down *= 4;
            if (wanted >= away) cap(share, wanted - away, up);
            if (wanted + away < levels) cap(share, wanted + away, down);
        }
        return share;
    }

    void reset() noexcept {
        levels_.fill({});
        stretches_ = 0;
        interrupt();
    }

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        for (Level& level : levels_) {
            visit(level.ratios);
            visit(level.count, level.ratios.size() + 1);
            visit(level.next, level.ratios.size());
            visit(level.last);
            visit(level.share);
        }
        visit(highest_);
        visit(level_, levels);
        visit(hops_);
        visit(stretches_);
        visit(now_);
    }

private:
    static constexpr double stretch_seconds = 0.064;
    static constexpr int needed = 6;
    static constexpr std::size_t levels = 14;   // from -78 dBFS up to +6
    static constexpr float unheard = 100;
    static constexpr long of_late = 150;        // stretches, about 10 s

    struct Level {
        std::array<float, 24> ratios{};
        std::size_t count = 0;
        std::size_t next = 0;
        long last = 0;   // stretch in which it was last heard
        float share = 0;

        bool known() const noexcept { return count >= 3; }

        void add(float ratio, long now) noexcept {
            last = now;
            ratios[next] = ratio;
            next = (next + 1) % ratios.size();
            count = std::min(count + 1, ratios.size());
            auto sorted = ratios;
            const auto high = sorted.begin() + static_cast<std::ptrdiff_t>((9 * (count - 1) + 5) / 10);
            std::nth_element(sorted.begin(), high, sorted.begin() + static_cast<std::ptrdiff_t>(count));
            share = 2 * *high;
        }
    };

    void cap(float& share, std::size_t level, float factor) const noexcept {
        const Level& l = levels_[level];
        if (l.known() && now_ - l.last < of_late) share = std::min(share, factor * l.share);
    }

    static std::size_t level_of(Power power) noexcept {
        const int exponent = std::ilogb(std::min(std::max(1e-12F, power), 1e12F)) + 1;  // power is below 2^exponent
        constexpr int last = static_cast<int>(levels) - 1;
        return static_cast<std::size_t>(std::clamp(exponent / 2 + last - 2, 0, last));
    }

    float growth_;
    long hops_a_stretch_;
    std::array<Level, levels> levels_{};
    float highest_ = 0;
    std::size_t level_ = 0;
    long hops_ = 0;
    int stretches_ = 0;
    long now_ = 0;
};

}  // namespace tripline::dsp::echo
