// Remembers how loud the sounds of the room were that were not the operator.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tripline::dsp {

/// The highest recent power of sounds that came and went without keying. It fades while
/// the room is quiet. At the start it is wary, as if something loud had just been heard.
/// A sound counts 0.3 s later, unless the station was keyed meanwhile: so the
/// first weak syllables of an over do not. One call a hop.
class Clutter {
public:
    Clutter(const ClutterSettings& settings, double hop_seconds)
        : enabled_(settings.enabled),
          margin_(static_cast<float>(to_ratio(settings.margin))),
          ceiling_(static_cast<float>(to_ratio(settings.ceiling))),
          fade_(fade(settings.fade_db_per_s)),
          settle_(fade(settings.settle_db_per_s)),
          wary_(static_cast<float>(to_ratio(settings.wary))),
          hops_a_block_(std::max(1L, std::lround(block_seconds / hop_seconds))) {
        reset();
    }

    /// The power a sound has to pass to stand out, never above `most`. `power` is the
    /// sound now, `floor` the noise floor.
    Power operator()(Power power, Power floor, Power most, bool keyed) noexcept {
        if (!enabled_) return 0;
        current_ = keyed ? 0 : std::max(current_, power);
        if (keyed) waiting_.fill(0);
        most_ = std::min(most, ceiling_ * floor);
        if (++hops_ >= hops_a_block_) next_block();
        floor_ = floor;
        return std::min(most_, margin_ * level());
    }

    /// True while sounds have to prove themselves.
    bool wary() const noexcept { return enabled_ && level() > wary_ * floor_; }

    /// What has just keyed, or held the key, was not the operator after all.
    void mistaken(Power peak) noexcept { learnt_ = std::max(learnt_, std::min(peak, most_)); }

    /// What was heard so far was not the room's.
    void forget() noexcept {
        waiting_.fill(0);
        current_ = learnt_ = 0;
    }

    void reset() noexcept {
        waiting_.fill(0);
        current_ = learnt_ = floor_ = most_ = 0;
        caution_ = ceiling_;
        hops_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(waiting_);
        for (Power* power : {&current_, &learnt_, &floor_, &most_}) visit(*power);
        visit(caution_);
        visit(hops_);
    }

private:
    static constexpr double block_seconds = 0.1;

    static float fade(double db_per_s) {
        return static_cast<float>(std::pow(10.0, -db_per_s * block_seconds / 10));
    }

    Power level() const noexcept { return std::max(learnt_, caution_ * floor_); }

    void next_block() noexcept {
        hops_ = 0;
        learnt_ = std::max(learnt_ * fade_, std::min(waiting_.back(), most_));
        caution_ *= settle_;
        std::copy_backward(waiting_.begin(), waiting_.end() - 1, waiting_.end());
        waiting_.front() = current_;
        current_ = 0;
    }

    bool enabled_;
    float margin_, ceiling_, fade_, settle_, wary_;
    long hops_a_block_;
    std::array<Power, 3> waiting_{};
    Power current_ = 0, learnt_ = 0, floor_ = 0, most_ = 0;
    float caution_ = 1;
    long hops_ = 0;
};

}  // namespace tripline::dsp
