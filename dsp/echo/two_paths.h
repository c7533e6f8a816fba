// The model in use, and a quicker one beside it that takes over when it does better.
#pragma once

#include "dsp/echo/path_filter.h"

#include <cstdint>

namespace tripline::dsp::echo {

/// The steady model forgets almost nothing, so a voice cannot lead it astray; the quick
/// one follows a moved loudspeaker. Whichever has clearly had the smaller error for a
/// while is copied over the other. If the prediction makes things worse, both start anew.
class TwoPaths {
public:
    TwoPaths();

    /// One sample of each input; true when it ended a block.
    bool push(float microphone, float receiver) noexcept;

    /// Microphone less the predicted sound of the loudspeaker, for the last sample.
    float residual() const noexcept { return residual_; }
    /// The predicted sound itself.
    float prediction() const noexcept { return prediction_; }

    const PathFilter& steady() const noexcept { return steady_; }
    const PathFilter& quick() const noexcept { return quick_; }

    /// Times the quick model took over, or both began anew, since construction.
    std::int64_t takeovers() const noexcept { return takeovers_; }
    std::int64_t restarts() const noexcept { return restarts_; }

    void reset() noexcept;

private:
    void end_block() noexcept;
    void compare() noexcept;

    RealFft fft_;
    ReceiverSpectra receiver_;
    PathFilter steady_;
    PathFilter quick_;

    std::array<float, block> steady_errors_{};
    std::array<float, block> quick_errors_{};
    std::size_t at_ = 0;
    float residual_ = 0;
    float prediction_ = 0;

    float microphone_energy_ = 0;  // of the block being filled
    float prediction_energy_ = 0;
    float microphone_power_ = 0;   // smoothed over blocks, as the two below
    float steady_power_ = 0;
    float quick_power_ = 0;
    int quick_better_ = 0;         // blocks in succession
    int steady_better_ = 0;
    int harmful_ = 0;
    int very_harmful_ = 0;
    std::int64_t takeovers_ = 0;
    std::int64_t restarts_ = 0;
};

}  // namespace tripline::dsp::echo
