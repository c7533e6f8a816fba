// Learns how loud the receiver arrives at the microphone.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/level_spread.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>

namespace tripline::dsp {

/// Microphone power over receiver power, over one second every half second: peak against
/// peak, middle against middle and so on, of which the least counts, since a key click lifts
/// only the microphone's peaks and a fan only its pauses. Of the last blocks with receiver
/// sound a high one counts, no more than 4 dB over the middle one, raised by the margin and
/// never above the set coupling, which also holds until something is known.
/// Blocks in which the station is keyed are left out. One call a hop.
class Coupling {
public:
    Coupling(const LeakSettings& settings, double hop_seconds)
        : highest_(settings.enabled ? static_cast<float>(to_ratio(settings.coupling)) : 0.0F),
          margin_(static_cast<float>(to_ratio(settings.margin))),
          learn_(settings.enabled && settings.learn),
          hops_a_block_(std::max(1L, std::lround(0.5 / hop_seconds))) {
        reset();
    }

    float operator()(Power microphone, Power receiver, bool keyed) noexcept {
        if (!learn_) return highest_;
        spoilt_ = spoilt_ || keyed;
        now_.microphone.take(microphone);
        now_.receiver.take(receiver);
        if (++hops_ >= hops_a_block_) next_block();
        return coupling_;
    }

    void reset() noexcept {
        coupling_ = highest_;
        known_ = next_ = 0;
        now_ = last_ = {};
        spoilt_ = last_spoilt_ = true;
        hops_ = 0;
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
        for (Block* block : {&now_, &last_}) {
            block->microphone.memory(visit);
            block->receiver.memory(visit);
        }
        visit(spoilt_);
        visit(last_spoilt_);
        visit(hops_);
    }

private:
    static constexpr Power faint = 1e-6F;  // -60 dBFS: no receiver sound to speak of

    /// Of half a second.
    struct Block {
        LevelSpread microphone;
        LevelSpread receiver;
    };

    void next_block() noexcept {
        if (!spoilt_ && !last_spoilt_ && at(1, &Block::receiver) > faint) learn(least_ratio());
        last_ = now_;
        now_ = {};
        last_spoilt_ = spoilt_;
        spoilt_ = false;
        hops_ = 0;
    }

    Power at(double share, LevelSpread Block::* side) const noexcept {
        return (now_.*side).at(share, last_.*side);
    }

    float least_ratio() const noexcept {
        float least = at(1, &Block::microphone) / at(1, &Block::receiver);
        for (const double share : {0.75, 0.5, 0.25}) {
            const Power receiver = at(share, &Block::receiver);
            if (receiver > faint) least = std::min(least, at(share, &Block::microphone) / receiver);
        }
        return least;
    }

    void learn(float ratio) noexcept {
        ratios_[next_] = ratio;
        next_ = (next_ + 1) % ratios_.size();
        known_ = std::min(known_ + 1, ratios_.size());
        auto sorted = ratios_;
        const auto end = sorted.begin() + static_cast<std::ptrdiff_t>(known_);
        std::sort(sorted.begin(), end);
        const float middle = sorted[known_ / 2];
        const float high = sorted[known_ * 5 / 6];
        coupling_ = std::min({highest_, margin_ * high, margin_ * spread * middle});
    }

    static constexpr float spread = 2.5F;  // 4 dB

    float highest_, margin_;
    bool learn_;
    long hops_a_block_;
    std::array<float, 12> ratios_{};
    std::size_t known_ = 0, next_ = 0;
    Block now_, last_;
    bool spoilt_ = true, last_spoilt_ = true;
    long hops_ = 0;
    float coupling_ = 0;
};

}  // namespace tripline::dsp
