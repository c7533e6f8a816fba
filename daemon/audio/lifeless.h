// Counts how long every input has been exactly zero: a converter always has some
// noise, so exact zeros on all channels mean that nothing is connected any more.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <span>

namespace tripline::audio {

class Lifeless {
public:
    /// Callback-safe. Returns for how many frames, this block's included, all was zero.
    Frames push(std::span<const float> microphone, std::span<const float> receiver) noexcept {
        const bool zero = all_zero(microphone) && all_zero(receiver);
        frames_ = zero ? frames_ + Frames{static_cast<std::int64_t>(microphone.size())} : Frames{0};
        return frames_;
    }

private:
    static bool all_zero(std::span<const float> samples) noexcept {
        return std::all_of(samples.begin(), samples.end(), [](float sample) { return sample == 0.0F; });
    }

    Frames frames_{0};
};

}  // namespace tripline::audio
