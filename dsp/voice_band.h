// What a voice channel passes: both inputs, 300 to 3000 Hz by default.
#pragma once

#include "dsp/biquad.h"
#include "dsp/dc_blocker.h"
#include "dsp/detector_settings.h"
#include "dsp/in_series.h"

#include <algorithm>
#include <array>
#include <span>

namespace tripline::dsp {

/// DC removal, then fourth-order Butterworth slopes at both corners: 3 dB down there,
/// 24 dB an octave beyond. A corner above 0.45 of the rate is brought down to that.
class VoiceBand {
public:
    VoiceBand(const VoiceBandSettings& settings, Hertz rate)
        : dc_(Hertz{10}, rate),
          high_pass_a_(high_pass(settings.low, q_a, rate)),
          high_pass_b_(high_pass(settings.low, q_b, rate)),
          low_pass_a_(low_pass(reachable(settings.high, rate), q_a, rate)),
          low_pass_b_(low_pass(reachable(settings.high, rate), q_b, rate)) {}

    Pair operator()(Pair x) noexcept {
        without_dc_ = dc_(x);
        return low_pass_b_(low_pass_a_(high_pass_b_(high_pass_a_(without_dc_))));
    }

    /// A block of both inputs, free of DC into `flat`; `out(i, sample)` takes what passes. Bit for bit as one by one.
    template <typename Out>
    void operator()(std::span<const float> microphone, std::span<const float> receiver, std::span<Pair> flat, Out out) noexcept {
        if (microphone.empty()) return;
        DcBlocker dc = dc_;  // in registers
        const auto in = [&](std::size_t i) { return flat[i] = dc(Pair{microphone[i], receiver[i]}); };
        in_series(std::array{&high_pass_a_, &high_pass_b_, &low_pass_a_, &low_pass_b_}, microphone.size(), in, out);
        dc_ = dc;
        without_dc_ = flat.back();
    }

    /// The last input, free of DC and not otherwise filtered.
    Pair without_dc() const noexcept { return without_dc_; }

    void reset() noexcept {
        dc_.reset();
        for (Biquad* section : {&high_pass_a_, &high_pass_b_, &low_pass_a_, &low_pass_b_})
            section->reset();
    }
    template <typename Visit> void memory(Visit& visit) {
        dc_.memory(visit);
        visit(without_dc_);
        for (Biquad* section : {&high_pass_a_, &high_pass_b_, &low_pass_a_, &low_pass_b_})
            section->memory(visit);
    }

private:
    static constexpr double q_a = 0.54119610;  // 1 / (2 cos(pi/8))
    static constexpr double q_b = 1.30656296;  // 1 / (2 cos(3 pi/8))

    static Hertz reachable(Hertz corner, Hertz rate) {
        return {std::min(corner.value, 0.45 * rate.value)};
    }

    DcBlocker dc_;
    Pair without_dc_{};
    Biquad high_pass_a_, high_pass_b_, low_pass_a_, low_pass_b_;
};

}  // namespace tripline::dsp
