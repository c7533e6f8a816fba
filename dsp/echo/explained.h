// How much of the microphone's sound a model explains, while only the receiver sounds.
#pragma once

#include "dsp/one_pole.h"
#include "dsp/units.h"

#include <algorithm>
#include <chrono>

namespace tripline::dsp::echo {

/// The mean share of the microphone's power that a prediction takes away, over the last second or so of
/// receiver sound. Each hop counts alike, however loud: so an operator who speaks over a soft
/// receiver is not taken for a model that has failed before he has spoken for a while.
class Explained {
public:
    explicit Explained(double hop_seconds) : decay_(decay_per_step(std::chrono::seconds{1}, hop_seconds)) {}

    /// One call a hop with receiver sound: powers of the microphone and of what is left of it, both
    /// less the room's noise. A hop in which nothing stands over the noise tells nothing.
    void operator()(Power microphone, Power left) noexcept {
        if (!(microphone > 0)) return;
        hops_ = decay_ * hops_ + 1;
        left_ = decay_ * left_ + std::min(most_left, left / microphone);
    }

    /// 0 to 1; 0 as long as nothing was heard.
    float share() const noexcept {
        return hops_ > 0 ? static_cast<float>(std::clamp(1 - left_ / hops_, 0.0, 1.0)) : 0.0F;
    }

    void reset() noexcept { hops_ = left_ = 0; }
    template <typename Visit> void memory(Visit& visit) {
        visit(hops_);
        visit(left_);
    }

private:
    static constexpr float most_left = 1.5F;  // a prediction that makes it worse

    float decay_;
    double hops_ = 0;  // of late
    double left_ = 0;  // shares left in them
};

}  // namespace tripline::dsp::echo
