// A soft tone that is added to the receiver's sound, so that it goes where that goes: to the
// loudspeaker, never on the air, and into what is expected at the microphone. Callback-safe.
#pragma once

#include "dsp/units.h"

#include <cmath>
#include <numbers>
#include <span>

namespace tripline::audio {

/// For one thread.
class Chime {
public:
    explicit Chime(Hertz rate)
        : length_(to_frames(std::chrono::milliseconds{400}, rate).count), turn_(2 * std::numbers::pi * 660 / rate.value) {}

    void strike() noexcept { at_ = 0; }
    bool sounds() const noexcept { return at_ < length_; }

    /// Adds the next samples, 30 dB under a full-scale sine, swelling and fading.
    void add_to(std::span<float> samples) noexcept {
        constexpr double amplitude = 0.0316;
        for (float& sample : samples) {
            if (!sounds()) return;
            const double swell = std::sin(std::numbers::pi * static_cast<double>(at_) / static_cast<double>(length_));
            sample += static_cast<float>(amplitude * swell * std::sin(turn_ * static_cast<double>(at_)));
            ++at_;
        }
    }

private:
    std::int64_t length_;
    double turn_;
    std::int64_t at_ = length_;
};

}  // namespace tripline::audio
