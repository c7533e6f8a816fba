// How much a sound repeats at the pitch of a voice.
#pragma once

#include "dsp/units.h"

#include <array>
#include <cstddef>

namespace tripline::dsp {

/// Keeps the last 25 ms of the microphone below about 900 Hz at 4 to 5.5 kHz, and
/// correlates the last 10 ms with what came 2.5 to 12.5 ms (400 to 80 Hz) before.
class Voicing {
public:
    explicit Voicing(Hertz rate);

    /// One sample of the microphone, free of DC.
    void push(float sample) noexcept {
        sum_ += sample;
        if (++in_sum_ < summed_) return;
        const float mean = sum_;
        sum_ = 0;
        in_sum_ = 0;
        take(mean);
    }

    /// Greatest normalised correlation of the last 10 ms with its past, 0 to 1.
    float periodicity() const noexcept;

    void reset() noexcept;
    template <typename Visit> void memory(Visit& visit) {
        for (Section* section : {&high_pass_, &low_pass_a_, &low_pass_b_}) {
            visit(section->s1);
            visit(section->s2);
        }
        visit(sum_);
        visit(in_sum_, summed_);
        visit(odd_);
        visit(past_);
        visit(at_, kept);
    }

private:
    static constexpr std::size_t kept = 256;

    struct Section {
        float b0 = 0, b1 = 0, b2 = 0, a1 = 0, a2 = 0;
        float s1 = 0, s2 = 0;
        float operator()(float x) noexcept {
            const float y = b0 * x + s1;
            s1 = b1 * x - a1 * y + s2;
            s2 = b2 * x - a2 * y;
            return y;
        }
    };

    void take(float mean) noexcept;

    int summed_;
    double kept_rate_;
    std::size_t window_, shortest_, longest_;
    Section high_pass_, low_pass_a_, low_pass_b_;
    float sum_ = 0;
    int in_sum_ = 0;
    bool odd_ = false;
    std::array<float, 2 * kept> past_{};  // each sample twice, so any span is contiguous
    std::size_t at_ = 0;
};

}  // namespace tripline::dsp
