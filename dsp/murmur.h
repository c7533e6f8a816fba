// Hears a voice by its pitch, under 900 Hz, before the voice band does.
#pragma once

#include "dsp/clutter.h"
#include "dsp/coupling.h"
#include "dsp/detector_settings.h"
#include "dsp/doubted.h"
#include "dsp/leak.h"
#include "dsp/noise_floor.h"
#include "dsp/one_pole.h"
#include "dsp/pair.h"
#include "dsp/voice_bar.h"

#include <algorithm>

namespace tripline::dsp {

/// Many words begin with a murmur under 300 Hz: m, n, b, d. It is compared with what the
/// receiver, the room and other pitched sounds make in the same band, and has to repeat at
/// a pitch near its peak for a while, the longer the less clearly. Clicks and steps are not
/// pitched, so they don't count however loud. One call of each a hop.
class Murmur {
public:
    Murmur(const DetectorSettings& settings, double hop_seconds)
        : enabled_(settings.evidence.murmur.enabled),
          lowest_(to_power(settings.gate.open)),
          above_floor_(static_cast<float>(to_ratio(settings.evidence.murmur.above_floor))),
          near_(static_cast<float>(to_ratio(Decibels{-settings.evidence.onset.near.value}))),
          under_voice_(static_cast<float>(to_ratio(Decibels{-settings.evidence.murmur.under_voice.value}))),
          most_(static_cast<float>(to_ratio(Decibels{-settings.evidence.clutter.under_voice.value}))),
          base_(static_cast<float>(settings.evidence.murmur.base)),
          lasts_(to_hops(settings.evidence.murmur.lasts, hop_seconds)),
          need_((static_cast<float>(settings.evidence.murmur.clear) - base_) * static_cast<float>(lasts_)),
          fade_(decay_per_step(std::chrono::milliseconds{50}, hop_seconds)),
          coupling_(settings.leak),
          leak_(settings.leak, hop_seconds),
          floor_(hop_seconds),
          clutter_(settings.evidence.clutter, hop_seconds),
          bar_(settings.evidence.voice_bar, hop_seconds) {}

    static constexpr float quarter = 0.25F;
    static constexpr float half = 0.5F;
    static constexpr float over_leak = 1.0F;

    /// The powers that a hop was decided by, before any adjustment of the gate.
    struct Weighed {
        Power power = 0;     ///< microphone less leak
        Power others = 0;    ///< what the threshold is not under, whatever the lowest is
        float coupling = 0;  ///< of the leak
        VoiceBar::Weighed bar{};
    };

    /// What is known of him and of the rest of the sound.
    struct Setting {
        Power voice = 0;       ///< the operator's peaks, or what is expected of them
        Power known_voice = 0; ///< the same, 0 until he was heard
        Power band = 0;        ///< microphone in the voice band, not held
    };

    /// `power` of both inputs in the band, the receiver's as 0 while the loudspeaker is silent;
    /// `balance` of what they are with it;
    /// `spoilt` while the microphone does not hear the receiver alone.
    /// True while a murmur may be heard: then say how periodic it is, else fall silent.
    bool follow(Pair power, const Balance::Block& balance, bool spoilt, bool keyed, const Setting& setting) noexcept {
        weighed_.coupling = coupling_(balance, spoilt, floor_.floor());
        const Power leak = leak_(power[1], weighed_.coupling);
        const Power floor = floor_(power[0], leak);
        weighed_.power = std::max(0.0F, power[0] - leak);
        const bool pitched = evidence_ >= 0.5F * need_;
        const Power clutter = clutter_(pitched ? weighed_.power : 0.0F, floor, most_ * setting.voice, keyed);
        const Power others = std::max({above_floor_ * floor, clutter, over_leak * leak});
        weighed_.others = std::max(others, under_voice_ * setting.voice);
        const Power threshold = std::max(lowest_, weighed_.others);
        most_doubted_ = half * most_ * setting.voice;
        above_ = weighed_.power > threshold ? std::min(above_ + 1, lasts_) : 0;
        peak_ = std::max(weighed_.power, fade_ * peak_);
        const bool bar = bar_.follow(peak_, setting.band, others, setting.known_voice, lowest_);
        weighed_.bar = bar_.weighed();
        return enabled_ && (weighed_.power > quarter * threshold || bar);
    }

    /// Whether a voice is heard murmuring. `wary`: the room is full of other sounds.
    bool operator()(float periodicity, bool wary) noexcept {
        const bool near_peak = weighed_.power >= near_ * peak_;
        const bool pitched = periodicity >= base_ && near_peak;
        evidence_ = pitched ? evidence_ + periodicity - base_ : 0;
        const bool bar = bar_(periodicity, near_peak, wary);
        spent_ = spent_ && (pitched || bar_.pitched());
        const bool murmur = above_ >= lasts_ && evidence_ >= need_;
        by_bar_ = enabled_ && bar && !murmur;
        return !spent_ && (by_bar_ || (murmur && doubted_.believes(peak_)));
    }

    void silence() noexcept {
        evidence_ = 0;
        spent_ = by_bar_ = false;
        bar_.silence();
    }

    /// A spell has begun; `murmured`: with what was heard now.
    void keyed(bool murmured) noexcept {
        bar_.keyed(murmured && by_bar_);
        doubted_.keyed(murmured && !by_bar_, peak_, most_doubted_);
    }
    /// What keyed was no voice after all: it does not key again, and what is no louder neither.
    void mistaken() noexcept {
        clutter_.mistaken(peak_);
        spent_ = true;
        bar_.mistaken();
        doubted_.mistaken();
    }
    /// A spell that has ended was the operator's.
    void operator_spoke() noexcept {
        bar_.operator_spoke();
        doubted_.operator_spoke();
    }

    /// So loud were others, in this band, while they held the key.
    void heard_others(Power peak) noexcept { clutter_.mistaken(peak); }

    /// The loudspeaker may have been turned up.
    void raise_leak() noexcept { coupling_.raise(); }

    void reset() noexcept {
        coupling_.reset();
        leak_.reset();
        floor_.reset();
        clutter_.reset();
        weighed_ = {};
        peak_ = 0;
        above_ = 0;
        most_doubted_ = 0;
        doubted_.reset();
        bar_.reset();
        silence();
    }
    const Weighed& weighed() const noexcept { return weighed_; }
    template <typename Visit> void memory_of_learning(Visit& visit) {
        coupling_.memory(visit);
        floor_.memory(visit);
        clutter_.memory(visit);
        doubted_.memory_of_learning(visit);
        bar_.memory_of_learning(visit);
    }
    template <typename Visit> void memory_of_moment(Visit& visit) {
        leak_.memory(visit);
        visit(peak_);
        visit(above_);
        visit(evidence_);
        visit(spent_);
        doubted_.memory_of_moment(visit);
        bar_.memory_of_moment(visit);
    }

private:
    bool enabled_;
    Power lowest_;
    float above_floor_, near_, under_voice_, most_, base_;
    long lasts_;
    float need_;
    float fade_;  ///< of the peak
    Coupling coupling_;
    Leak leak_;
    NoiseFloor floor_;
    Clutter clutter_;
    VoiceBar bar_;
    Doubted doubted_;
    Weighed weighed_;
    Power peak_ = 0;
    long above_ = 0;      // hops above the threshold, as many as it takes
    float evidence_ = 0;  // periodicity over the base, summed over hops near the peak
    bool spent_ = false;  // until this sound is over
    bool by_bar_ = false;      // what is heard now is a voice bar alone
    Power most_doubted_ = 0;   // however loud a mistake was, as of the last hop
};

}  // namespace tripline::dsp
