// The model in use, and a quicker one beside it that takes over when it does better.
#pragma once

#include "dsp/echo/path_filter.h"

#include <algorithm>
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

    /// How strong the path is by its envelopes, in power: a model that begins anew doubts no more than that,
    /// so that it does not take the room's noise for a loud path.
    void expect(float coupling) noexcept { coupling_ = std::clamp(coupling, weakest, 1.0F); }

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

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        receiver_.memory(visit);
        steady_.memory(visit);
        quick_.memory(visit);
        visit(steady_errors_);
        visit(quick_errors_);
        visit(at_, block);
        for (float* figure : {&residual_, &prediction_, &microphone_energy_, &prediction_energy_, &microphone_power_,
                              &steady_power_, &quick_power_, &coupling_})
            visit(*figure);
        for (int* blocks : {&quick_better_, &steady_better_, &harmful_, &very_harmful_}) visit(*blocks);
        visit(takeovers_);
        visit(restarts_);
    }

private:
    static constexpr float weakest = 1e-3F;  // -30 dB: softer does not matter

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
    float coupling_ = 1;           // of the envelopes, within what a model may doubt
    int quick_better_ = 0;         // blocks in succession
    int steady_better_ = 0;
    int harmful_ = 0;
    int very_harmful_ = 0;
    std::int64_t takeovers_ = 0;
    std::int64_t restarts_ = 0;
};

}  // namespace tripline::dsp::echo
