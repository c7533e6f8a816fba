// Counts how long the inputs have shown no sign of life: a converter always has some
// noise. Exact zeros on every channel mean that nothing is connected any more; a
// microphone that stands still anywhere else is a converter that is stuck.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <span>

namespace tripline::audio {

class Lifeless {
public:
    /// Callback-safe. Returns for how many frames, this block's included, it has lasted.
    Frames push(std::span<const float> microphone, std::span<const float> receiver) noexcept {
        if (microphone.empty()) return frames_;
        const float held = microphone.back();
        const bool still = last_ == held && all(microphone, held) && (held != 0.0F || all(receiver, 0.0F));
        frames_ = still ? frames_ + Frames{static_cast<std::int64_t>(microphone.size())} : Frames{0};
        last_ = held;
        return frames_;
    }

private:
    static bool all(std::span<const float> samples, float value) noexcept {
        return std::all_of(samples.begin(), samples.end(), [value](float sample) { return sample == value; });
    }

    float last_ = 0;
    Frames frames_{0};
};

}  // namespace tripline::audio
