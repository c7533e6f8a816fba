// Tells the beginning of a voice from a click.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>

namespace tripline::dsp {

/// A voice stays near its peak and soon repeats at its pitch; a click falls from its
/// peak at once. One call of follow() a hop, then qualified() where it matters.
class Onset {
public:
    Onset(const OnsetSettings& settings, Duration qualify, double hop_seconds)
        : near_(static_cast<float>(to_ratio(Decibels{-settings.near.value}))),
          jump_(static_cast<float>(to_ratio(Decibels{-settings.sudden.value}))),
          forget_(static_cast<float>(std::pow(10.0, -fall_db_per_s / 10 * hop_seconds))),
          voiced_(static_cast<float>(settings.voiced)),
          voiced_wary_(static_cast<float>(settings.voiced_wary)),
          voiced_near_(static_cast<float>(settings.voiced_near)),
          clear_near_(static_cast<float>(settings.clear_near)),
          base_near_(static_cast<float>(settings.base_near)),
          rise_(hops(settings.rise, hop_seconds)),
          window_(hops(settings.pitched, hop_seconds)),
          window_alone_(hops(settings.pitched_alone, hop_seconds)),
          gradual_(hops(qualify, hop_seconds)),
          sudden_(hops(settings.qualify_sudden, hop_seconds)),
          pitched_wary_(hops(settings.pitched_wary, hop_seconds)),
          sung_(hops(settings.sung, hop_seconds)),
          need_near_((clear_near_ - base_near_) * (static_cast<float>(hops(settings.sung_near, hop_seconds)) - 0.5F)) {}

    static constexpr float dip = 0.8F;

    /// True while the power is above the threshold, so a voice may begin. Dips of less
    /// than 1 dB under it, between the pulses of a low voice, don't count.
    bool follow(Power power, Power threshold) noexcept {
        ++now_;
        at(now_) = power;
        peak_ = std::max(power, forget_ * peak_);
        if (power <= (above_ > 0 ? dip : 1.0F) * threshold) {
            above_ = run_ = pitched_ = 0;
            peak_ = power;
            return false;
        }
        ++above_;
        run_ = std::min(run_ + 1, past_.size() - rise_ - 1);
        if (power < near_ * peak_) run_ = 0;
        while (run_ > 0 && at(now_ + 1 - run_) < near_ * peak_) --run_;
        return true;
    }

    /// True when the sound has shown to be a voice. In a wary state it takes pitch;
    /// else a sound that lasts will do. `periodicity` is 0 to 1; `alone` if the
    /// receiver's sound was taken out of it.
    bool qualified(float periodicity, bool wary, bool alone = false) noexcept {
        const std::size_t window = alone ? window_alone_ : window_;
        pitched_ = periodicity >= voiced_wary_ ? pitched_ + 1 : 0;
        if (wary) return pitched_ >= pitched_wary_ && above_ >= window + pitched_wary_;
        if (periodicity >= voiced_ && above_ >= window) return true;
        if (run_ == 0) return false;
        const bool sudden = at(now_ + 1 - run_ - rise_) < jump_ * peak_;
        return run_ >= (sudden ? sudden_ : gradual_);
    }

    /// True when a pitch has stood long enough by itself. The power of a low voice falls under the
    /// threshold between its pulses, so that it is never above for long: `over` while its held
    /// peak is, and nothing but a voice may have made it. What is as loud as the operator, `near_voice`, needs
    /// less of a pitch than others of the room, for the longer the less clear it is.
    bool sung(float periodicity, bool over, bool near_voice) noexcept {
        singing_ = over && periodicity >= voiced_wary_ ? std::min(singing_ + 1, sung_) : 0;
        const bool near = over && near_voice && periodicity >= voiced_near_;
        const float pitch = std::min(periodicity, clear_near_) - base_near_;
        evidence_near_ = near ? std::min(evidence_near_ + pitch, need_near_) : 0;
        return sings() || evidence_near_ >= need_near_;
    }
    /// Whether sung() heard a clear pitch last, which room, relays and receiver seldom have.
    bool sings() const noexcept { return singing_ >= sung_; }

    bool following() const noexcept { return above_ > 0; }

    void reset() noexcept {
        past_.fill(0);
        above_ = run_ = pitched_ = singing_ = 0;
        evidence_near_ = 0;
        peak_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(now_);
        visit(above_);
        visit(run_, past_.size() - rise_);
        visit(pitched_);
        visit(singing_);
        visit(evidence_near_);
        visit(peak_);
        for (std::size_t back = 0; back < run_ + rise_; ++back) visit(at(now_ - back));
    }

private:
    static constexpr double fall_db_per_s = 100;

    std::size_t hops(Duration duration, double hop_seconds) const {
        return std::min(static_cast<std::size_t>(to_hops(duration, hop_seconds)), past_.size() / 2 - 1);
    }

    Power& at(std::size_t hop) noexcept { return past_[hop % past_.size()]; }
    Power at(std::size_t hop) const noexcept { return past_[hop % past_.size()]; }

    std::array<Power, 256> past_{};  // a power of two, so that hop numbers may wrap
    float near_, jump_, forget_, voiced_, voiced_wary_, voiced_near_, clear_near_, base_near_;
    std::size_t rise_, window_, window_alone_, gradual_, sudden_, pitched_wary_, sung_;
    float need_near_;
    std::size_t now_ = 0;
    std::size_t above_ = 0;  // hops above the threshold
    std::size_t run_ = 0;    // hops of those, back from now, near the peak
    std::size_t pitched_ = 0;  // and with pitch
    std::size_t singing_ = 0;  // hops of pitch on end, whatever the power
    float evidence_near_ = 0;  // periodicity over its base, summed over hops of a pitch near the operator's level
    Power peak_ = 0;
};

}  // namespace tripline::dsp
