// Watches a spell of keying for the marks of speech.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// A spell is the time the gate is held. Speech shows pitch soon after it begins, and
/// its power never stays level for long. One call a hop.
class Spell {
public:
    enum class Verdict : unsigned char { going_on, not_speech, steady };

    Spell(const SpellSettings& settings, double hop_seconds)
        : voiced_(static_cast<float>(settings.voiced)),
          clear_(static_cast<float>(settings.clear)),
          clear_proof_(to_hops(settings.clear_proof, hop_seconds)),
          proof_(to_hops(settings.proof, hop_seconds)),
          prove_within_(to_hops(settings.prove_within, hop_seconds)),
          steady_(to_hops(settings.steady, hop_seconds)),
          ripple_(static_cast<float>(to_ratio(settings.ripple))) {}

    /// `murmured`: by a voice's pitch alone.
    void begin(bool murmured) noexcept {
        murmured_ = murmured;
        age_ = pitched_ = clearly_ = level_for_ = 0;
        peak_ = 0;
        low_ = high_ = 0;
    }

    /// `power` of the microphone; `voice` while the gate is open; `periodicity` 0 to 1.
    Verdict operator()(Power power, bool voice, float periodicity) noexcept {
        ++age_;
        if (voice && periodicity >= voiced_) ++pitched_;
        if (voice && periodicity >= clear_) ++clearly_;
        if (voice) peak_ = std::max(peak_, power);
        if (level_too_long(power, voice)) return Verdict::steady;
        if (age_ >= prove_within_ && !proven()) return Verdict::not_speech;
        return Verdict::going_on;
    }

    bool murmured() const noexcept { return murmured_; }
    /// True once the spell has shown enough pitch to be a voice.
    bool proven() const noexcept { return pitched_ >= proof_; }
    /// True once its pitch has been clear for long enough: one voice near the microphone.
    bool clear() const noexcept { return clearly_ >= clear_proof_; }
    Power peak() const noexcept { return peak_; }

    template <typename Visit> void memory(Visit& visit) {
        for (long* count : {&age_, &pitched_, &clearly_, &level_for_}) visit(*count);
        for (Power* power : {&peak_, &low_, &high_}) visit(*power);
        visit(murmured_);
    }

private:
    /// True when the open gate has seen no syllable, that is no rise and fall by the ripple.
    bool level_too_long(Power power, bool voice) noexcept {
        low_ = std::min(low_, power);
        high_ = std::max(high_, power);
        if (!voice || high_ > ripple_ * low_) {
            level_for_ = 0;
            low_ = high_ = power;
        }
        return ++level_for_ >= steady_;
    }

    float voiced_, clear_;
    long clear_proof_, proof_, prove_within_, steady_;
    float ripple_;
    long age_ = 0, pitched_ = 0, clearly_ = 0, level_for_ = 0;
    Power peak_ = 0, low_ = 0, high_ = 0;
    bool murmured_ = false;
};

}  // namespace tripline::dsp
