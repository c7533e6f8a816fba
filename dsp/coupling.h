// Learns how loud the receiver arrives at the microphone.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>

namespace tripline::dsp {

/// Microphone power over receiver power, peak against peak, over one second every half
/// second. Of the last blocks with receiver sound a high one counts, no more than 4 dB
/// over the middle one, raised by the margin and never above the set coupling, which
/// also holds until something is known.
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
        microphone_ = std::max(microphone_, microphone);
        receiver_ = std::max(receiver_, receiver);
        if (++hops_ >= hops_a_block_) next_block();
        return coupling_;
    }

    void reset() noexcept {
        coupling_ = highest_;
        known_ = next_ = 0;
        microphone_ = receiver_ = last_microphone_ = last_receiver_ = 0;
        spoilt_ = last_spoilt_ = true;
        hops_ = 0;
    }

private:
    static constexpr Power faint = 1e-6F;  // -60 dBFS: no receiver sound to speak of

    void next_block() noexcept {
        const Power receiver = std::max(last_receiver_, receiver_);
        if (!spoilt_ && !last_spoilt_ && receiver > faint)
            learn(std::max(last_microphone_, microphone_) / receiver);
        last_microphone_ = microphone_;
        last_receiver_ = receiver_;
        last_spoilt_ = spoilt_;
        microphone_ = receiver_ = 0;
        spoilt_ = false;
        hops_ = 0;
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
    Power microphone_ = 0, receiver_ = 0, last_microphone_ = 0, last_receiver_ = 0;
    bool spoilt_ = true, last_spoilt_ = true;
    long hops_ = 0;
    float coupling_ = 0;
};

}  // namespace tripline::dsp
