// The speech voltmeter: level of a voice while it is active, ITU-T P.56 method B.
#pragma once

#include "dsp/units.h"

#include <array>
#include <cstdint>
#include <span>

namespace tripline::dsp {

/// Streaming meter. Constants of P.56: two-pole envelope of 0.03 s, hangover 0.2 s,
/// 15 thresholds 6.02 dB apart, margin 15.9 dB. Levels are in dBFS (dBov + 3.01).
/// Any rate above 0. No heap. Used by one thread at a time.
class SpeechLevel {
public:
    /// Throws std::invalid_argument for a rate of zero or less.
    explicit SpeechLevel(Hertz rate);

    void push(float sample) noexcept;
    void push(std::span<const float> samples) noexcept {
        for (const float sample : samples) push(sample);
    }

    /// Mean level while speech is active; -200 when nothing was active.
    Dbfs active() const;
    /// Mean level of everything pushed; -200 when nothing was.
    Dbfs long_term() const;
    /// Share of the time that was active, 0 to 1.
    double activity() const;

    void reset() noexcept;

private:
    static constexpr std::size_t threshold_count = 15;

    double smoothing_;
    std::int64_t hangover_;
    double first_ = 0;   // envelope after the first pole
    double second_ = 0;  // and after the second
    double energy_ = 0;
    std::int64_t samples_ = 0;
    std::array<std::int64_t, threshold_count> active_{};
    std::array<std::int64_t, threshold_count> since_{};  // samples since the envelope was above
};

}  // namespace tripline::dsp
