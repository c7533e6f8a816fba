// Predicts how much of the receiver arrives at the microphone.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/one_pole.h"
#include "dsp/units.h"

#include <algorithm>
#include <vector>

namespace tripline::dsp {

/// Receiver power through a coupling gain, a delay and a decaying tail. One call a hop.
class Leak {
public:
    Leak(const LeakSettings& settings, double hop_seconds)
        : decay_(decay_per_step(settings.decay, hop_seconds)),
          line_(1 + static_cast<std::size_t>(std::llround(
                        std::max(0.0, std::chrono::duration<double>(settings.delay).count()) /
                        hop_seconds))) {}

    Power operator()(Power receiver, float coupling) noexcept {
        line_[at_] = receiver;
        at_ = at_ + 1 == line_.size() ? 0 : at_ + 1;
        predicted_ = std::max(line_[at_], decay_ * predicted_);
        return coupling * predicted_;
    }

    void reset() noexcept {
        std::fill(line_.begin(), line_.end(), 0.0F);
        at_ = 0;
        predicted_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        visit(line_);
        visit(at_, line_.size());
        visit(predicted_);
    }

private:
    float decay_;
    std::vector<Power> line_;
    std::size_t at_ = 0;
    Power predicted_ = 0;
};

}  // namespace tripline::dsp
