// A plain delay: the audio waits until key and relays are ready for it.
#pragma once

#include "dsp/units.h"

#include <algorithm>
#include <vector>

namespace tripline::dsp {

/// Sample in, sample of `delay` ago out; silence until then. Memory is taken once.
class LookAhead {
public:
    explicit LookAhead(Frames delay)
        : line_(static_cast<std::size_t>(std::max<std::int64_t>(0, delay.count))) {}

    float operator()(float sample) noexcept {
        if (line_.empty()) return sample;
        std::swap(sample, line_[at_]);
        at_ = at_ + 1 == line_.size() ? 0 : at_ + 1;
        return sample;
    }

    void reset() noexcept { std::fill(line_.begin(), line_.end(), 0.0F); }

private:
    std::vector<float> line_;
    std::size_t at_ = 0;
};

}  // namespace tripline::dsp
