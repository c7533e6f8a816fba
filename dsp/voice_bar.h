// Hears a voice while the lips are still closed: before b, d and g.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/doubts.h"
#include "dsp/one_pole.h"
#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// Before a voiced stop the vocal folds swing into a closed mouth, and for up to a tenth of a second only their
/// lowest harmonics come through the cheeks: softer than a murmur, as clear in pitch, and dark, since the voice band
/// hears next to nothing. Others of the room who are so soft at the microphone are not so dark. Only of an operator who
/// has been heard. One call of each a hop.
class VoiceBar {
public:
    VoiceBar(const VoiceBarSettings& settings, double hop_seconds)
        : under_voice_(static_cast<float>(to_ratio(Decibels{-settings.under_voice.value}))),
          darker_(static_cast<float>(to_ratio(settings.darker))),
          base_(static_cast<float>(settings.base)),
          lasts_(to_hops(settings.lasts, hop_seconds)),
          need_(static_cast<float>(settings.clear - settings.base) * static_cast<float>(lasts_)),
          fade_(decay_per_step(std::chrono::milliseconds{50}, hop_seconds)) {}

    struct Weighed {
        Power peak = 0;     ///< of what is dark; else 0
        Power others = 0;   ///< what the threshold is not under, whatever the lowest is
    };

    /// Powers: `peak` held, of what is left where a voice's pitch is; `band` in the voice band, with what the receiver
    /// leaks but for what an echo model explains; `others`: what room and receiver make where the pitch is; `voice`: the operator's peaks, 0 until he
    /// was heard; `lowest`: of the threshold. True while it stands out: then say how periodic it is.
    bool follow(Power peak, Power band, Power others, Power voice, Power lowest) noexcept {
        band_peak_ = std::max(band, fade_ * band_peak_);
        const bool dark = voice > 0 && peak > darker_ * band_peak_;
        weighed_ = {dark ? peak : 0.0F, std::max(others, under_voice_ * voice)};
        above_ = weighed_.peak > std::max(lowest, weighed_.others) ? std::min(above_ + 1, lasts_) : 0;
        return above_ > 0;
    }

    /// Whether one is heard. `near_peak`: the sound now is near its peak; `wary`: the room is full of other sounds, of
    /// which a chair's creak is as dark.
    bool operator()(float periodicity, bool near_peak, bool wary) noexcept {
        pitched_ = periodicity >= base_ && near_peak;
        evidence_ = pitched_ ? evidence_ + periodicity - base_ : 0;
        return !wary && doubts_.believed() && above_ >= lasts_ && evidence_ >= need_;
    }
    bool pitched() const noexcept { return pitched_; }

    /// A spell has begun; `begun_so`: with a voice bar.
    void keyed(bool begun_so) noexcept { keyed_ = begun_so; }
    /// A spell was no speech, however it began.
    void mistaken() noexcept { doubts_.mistaken(); }
    /// A spell that has ended was his.
    void operator_spoke() noexcept { doubts_.operator_spoke(keyed_); }

    void silence() noexcept {
        evidence_ = 0;
        pitched_ = false;
    }
    void reset() noexcept {
        weighed_ = {};
        band_peak_ = 0;
        above_ = 0;
        doubts_.reset();
        keyed_ = false;
        silence();
    }
    const Weighed& weighed() const noexcept { return weighed_; }
    /// What holds beyond the moment.
    template <typename Visit> void memory_of_learning(Visit& visit) { doubts_.memory(visit); }
    template <typename Visit> void memory_of_moment(Visit& visit) {
        visit(band_peak_);
        visit(above_);
        visit(evidence_);
        visit(keyed_);
    }

private:
    float under_voice_, darker_, base_;
    long lasts_;
    float need_;
    float fade_;  ///< of the peak
    Weighed weighed_;
    Power band_peak_ = 0;
    long above_ = 0;      // hops it stood out, as many as it takes
    float evidence_ = 0;  // periodicity over the base, summed over hops near the peak
    bool pitched_ = false;
    Doubts doubts_;
    bool keyed_ = false;  // the last spell began with one
};

}  // namespace tripline::dsp
