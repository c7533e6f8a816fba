// Opens and closes a path without a click.
#pragma once

#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// Moves between silence and the plain sample along 3p^2 - 2p^3, in `length` frames; at
/// once if it is 0. Turned round midway it goes on from where it is.
class Fade {
public:
    explicit Fade(Frames length) : length_(std::max<std::int64_t>(0, length.count)) {}

    float operator()(float sample, bool open) noexcept {
        at_ =
            std::clamp<std::int64_t>(at_ + (open ? 1 : -1), 0, std::max<std::int64_t>(1, length_));
        if (length_ == 0) return open ? sample : 0.0F;
        if (at_ == 0) return 0.0F;
        if (at_ == length_) return sample;
        const float p = static_cast<float>(at_) / static_cast<float>(length_);
        return p * p * (3 - 2 * p) * sample;
    }

    bool silent() const noexcept { return at_ == 0; }

private:
    std::int64_t length_;
    std::int64_t at_ = 0;
};

}  // namespace tripline::dsp
