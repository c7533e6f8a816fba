// What the station lets be heard: the operator on the air, the receiver in the room.
#pragma once

#include "daemon/station/settings.h"
#include "dsp/fade.h"
#include "dsp/gain.h"
#include "dsp/limiter.h"
#include "dsp/look_ahead.h"

#include <cmath>

namespace tripline::station {

/// A broken sample leaves as silence.
inline float finite_or_silence(float sample) noexcept {
    return std::isfinite(sample) ? sample : 0.0F;
}

/// Microphone to transmitter: look-ahead, gain, limiter; silent while the key is open.
class TransmitPath {
public:
    TransmitPath(const TransmitAudioSettings& settings, Hertz rate)
        : look_ahead_(to_frames(settings.look_ahead, rate)),
          gain_(settings.gain),
          limiter_(settings.limit, release, rate),
          fade_(to_frames(fade, rate)) {}

    float operator()(float microphone, bool key_closed) noexcept {
        const float delayed = look_ahead_(finite_or_silence(microphone));
        return fade_(limiter_(gain_(delayed)), key_closed);
    }

    void reset() noexcept {
        look_ahead_.reset();
        limiter_.reset();
    }

private:
    static constexpr Duration release = 100ms;
    static constexpr Duration fade = 5ms;

    dsp::LookAhead look_ahead_;
    dsp::Gain gain_;
    dsp::Limiter limiter_;
    dsp::Fade fade_;
};

/// Receiver to loudspeaker: silent while muted, never above full scale.
class LoudspeakerPath {
public:
    LoudspeakerPath(Duration fade, Hertz rate) : fade_(to_frames(fade, rate)) {}

    float operator()(float receiver, bool muted) noexcept {
        return fade_(std::clamp(finite_or_silence(receiver), -1.0F, 1.0F), !muted);
    }

private:
    dsp::Fade fade_;
};

}  // namespace tripline::station
