// Remembers how loud the operator speaks.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// The peak power of the operator's spells: each spell moves it half way, in decibels. Until
/// the first it is a guess: the expected level, or in a quieter room what a voice at the microphone
/// stands over it, but no less than a soft voice has and over the loudspeaker.
class OperatorLevel {
public:
    OperatorLevel(const ClutterSettings& settings, double hop_seconds)
        : expected_(to_power(settings.voice_peak)),
          least_(to_power(settings.voice_least)),
          over_floor_(static_cast<float>(to_ratio(settings.voice_over_floor))),
          over_leak_(static_cast<float>(to_ratio(settings.voice_over_leak))),
          fade_(static_cast<float>(std::pow(10.0, -settings.fade_db_per_s / 10 * hop_seconds))) {
        reset();
    }

    /// What is heard of the room and the receiver, and how much of the latter leaks. One call a hop.
    void surroundings(Power floor, Power receiver, float coupling) noexcept {
        receiver_ = std::max(receiver, fade_ * receiver_);
        if (!known_) level_ = std::min(expected_, std::max({least_, over_floor_ * floor, over_leak_ * coupling * receiver_}));
    }
    void heard(Power peak) noexcept {
        if (!(peak > 0)) return;
        level_ = std::sqrt(level_ * peak);
        known_ = true;
    }

    /// Whether a sound at the microphone is so far over what the receiver's peaks of late make there as a voice is
    /// expected to be. `coupling` as for surroundings(). Never true while the receiver was under -60 dBFS.
    bool outdoes_receiver(Power power, float coupling) const noexcept {
        return receiver_ > sounding && power > over_leak_ * coupling * receiver_;
    }

    /// Whether he has been heard.
    bool known() const noexcept { return known_; }
    Power peak() const noexcept { return level_; }
    /// The same, but until he has been heard as expected, whatever the room.
    Power known_peak() const noexcept { return known_ ? level_ : expected_; }
    /// The same, 0 until he has been heard.
    Power heard_peak() const noexcept { return known_ ? level_ : 0.0F; }

    void reset() noexcept {
        level_ = expected_;
        receiver_ = 0;
        known_ = false;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(level_);
        visit(receiver_);
        visit(known_);
    }

private:
    static constexpr Power sounding = 1e-6F;  // -60 dBFS

    Power expected_, least_;
    float over_floor_, over_leak_, fade_;
    Power level_ = 0;
    Power receiver_ = 0;  // its peaks
    bool known_ = false;
};

}  // namespace tripline::dsp
