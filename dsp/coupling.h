// Learns how loud the receiver arrives at the microphone.
#pragma once

#include "dsp/balance.h"
#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>

namespace tripline::dsp {

/// Of the last blocks with receiver sound a high ratio counts, no more than 4 dB over the middle
/// one, raised by the margin and never above the set coupling, which also holds until something
/// is known. Blocks in which the station is keyed are left out, and those in which neither the
/// microphone nor what the receiver makes there, by what is known, stands out of the room's noise:
/// of the ratio they tell no more than that it is not higher. Where the loudspeaker plays on while the
/// station is keyed all blocks count. One call a hop.
class Coupling {
public:
    explicit Coupling(const LeakSettings& settings)
        : highest_(settings.enabled ? static_cast<float>(to_ratio(settings.coupling)) : 0.0F),
          margin_(static_cast<float>(to_ratio(settings.margin))),
          learn_(settings.enabled && settings.learn),
          muted_on_air_(settings.muted_on_air) {
        reset();
    }

    /// `floor`: of the microphone.
    float operator()(const Balance::Block& block, bool keyed, Power floor) noexcept {
        if (!learn_) return highest_;
        spoilt_ = spoilt_ || keyed;
        if (block.ended) {
            follow(floor);
            next_block(block);
        }
        return std::min(highest_, coupling_);  // what was learnt may be under another limit
    }

    void reset() noexcept {
        coupling_ = highest_;
        known_ = next_ = 0;
        spoilt_ = last_spoilt_ = true;
        first_ = settles;
    }
    /// It may be 12 dB higher, and what was learnt no longer holds.
    void raise() noexcept {
        const float raised = std::min(highest_, 16 * coupling_);
        const long first = first_;
        reset();
        first_ = first;
        coupling_ = raised;
    }
    template <typename Visit> void memory(Visit& visit) {
        if (known_ == ratios_.size()) {
            std::rotate(ratios_.begin(), ratios_.begin() + static_cast<std::ptrdiff_t>(next_), ratios_.end());
            next_ = 0;
        }
        visit(coupling_);
        visit(ratios_);
        visit(known_, ratios_.size() + 1);
        visit(next_, ratios_.size());
        visit(spoilt_);
        visit(last_spoilt_);
        visit(room_);
        visit(first_, settles + 1);
    }

private:
    void follow(Power floor) noexcept {
        room_ = first_ > 0 ? floor : std::min(floor, rise * std::max(room_, quiet));
        first_ = std::max(0L, first_ - 1);
    }

    void next_block(const Balance::Block& block) noexcept {
        if (!spoilt_ && !last_spoilt_ && block.microphone > 0 && block.receiver > 0 && tells(block))
            learn(block.microphone / block.receiver);
        last_spoilt_ = spoilt_;
        spoilt_ = false;
    }

    bool tells(const Balance::Block& block) const noexcept {
        return !muted_on_air_ || known_ == 0 || block.microphone > clearly_over * room_ || high_ratio() * block.receiver > over * room_;
    }

    void learn(float ratio) noexcept {
        ratios_[next_] = ratio;
        next_ = (next_ + 1) % ratios_.size();
        known_ = std::min(known_ + 1, ratios_.size());
        coupling_ = std::min(highest_, margin_ * high_ratio());
    }

    /// Of those known, of which there is one at least.
    float high_ratio() const noexcept {
        auto sorted = ratios_;
        const auto end = sorted.begin() + static_cast<std::ptrdiff_t>(std::min(known_, sorted.size()));
        std::sort(sorted.begin(), end);
        return std::min(sorted[known_ * 5 / 6], spread * sorted[known_ / 2]);
    }

    static constexpr float spread = 2.5F;        // 4 dB
    static constexpr float clearly_over = 4.0F;  // 6 dB
    static constexpr float over = 1.6F;          // 2 dB

    /// The noise of a receiver that never pauses lifts the floor too when the loudspeaker is turned up. A rise is believed
    /// so slowly that this is learnt first.
    static constexpr float rise = 1.035F;  // a block: 0.3 dB/s
    static constexpr Power quiet = 1e-6F;  // -60 dBFS: from there at least, so that no mute switch is remembered for long
    static constexpr long settles = 8;     // blocks until the floor is known

    float highest_, margin_;
    bool learn_;
    bool muted_on_air_;  // else what keys may be the loudspeaker, and all that would tell is spoilt
    std::array<float, 12> ratios_{};
    std::size_t known_ = 0, next_ = 0;
    bool spoilt_ = true, last_spoilt_ = true;
    float coupling_ = 0;
    long first_ = settles;  // blocks left until the floor is known
    Power room_ = 0;        // the floor, but for a while no higher than it was
};

}  // namespace tripline::dsp
