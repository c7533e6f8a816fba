// How much a sound repeats at the pitch of a voice.
#pragma once

#include "dsp/biquad.h"
#include "dsp/pair.h"
#include "dsp/units.h"

#include <array>
#include <cstddef>
#include <span>

namespace tripline::dsp {

/// Both inputs from 90 to about 900 Hz at 4 to 5.5 kHz, where a voice's pitch is. Keeps the
/// last 25 ms of the microphone, and correlates the last 10 ms with what came 2.5 to 12.5 ms
/// (400 to 80 Hz) before.
class Voicing {
public:
    explicit Voicing(Hertz rate);

    /// Samples of both inputs, free of DC; at most `most` in a block.
    void push(std::span<const Pair> block) noexcept;
    void push(Pair sample) noexcept { push(std::span(&sample, 1)); }
    static constexpr std::size_t most = 128;

    /// A place in the past that is kept: after a sample of the last block.
    struct Moment {
        Pair power{};            ///< of both inputs in the band, over the last 4 ms or so
        std::size_t place = 0;   ///< for periodicity()
    };
    /// After so many samples of the last block.
    Moment after(std::size_t samples) const noexcept;
    /// After the last one.
    Moment now() const noexcept { return {power_, at_}; }

    /// Greatest normalised correlation of the last 10 ms with its past, 0 to 1.
    float periodicity(std::size_t place) const noexcept;

    void reset() noexcept;
    template <typename Visit> void memory(Visit& visit) {
        for (Biquad* section : {&high_pass_, &low_pass_a_, &low_pass_b_}) section->memory(visit);
        visit(sum_);
        visit(power_);
        visit(in_sum_, summed_);
        visit(odd_);
        visit(past_);
        visit(at_, kept);
    }

private:
    static constexpr std::size_t kept = 256;  // the last 25 ms and a block at any rate

    void take(std::span<Pair> means) noexcept;

    int summed_;
    double kept_rate_;
    std::size_t window_, shortest_, longest_;
    Biquad high_pass_, low_pass_a_, low_pass_b_;
    float share_;
    float averaging_;
    Pair sum_{};
    Pair power_{};
    int in_sum_ = 0;
    bool odd_ = false;
    std::array<float, 2 * kept> past_{};  // each sample twice, so any span is contiguous
    std::size_t at_ = 0;

    Moment before_;  // the last block, and in it:
    std::size_t summed_before_ = 0, odd_before_ = 0;
    std::array<Pair, most> powers_{};
};

}  // namespace tripline::dsp
