// Notices that others hold the key.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// How long the operator has not spoken up in a spell of keying, and how loud the softer sounds were
/// that came once his last word had died away. One call a hop.
class Lull {
public:
    Lull(const LullSettings& settings, double hop_seconds)
        : lasts_(to_hops(settings.lasts, hop_seconds)), tail_(to_hops(settings.tail, hop_seconds)) {}

    void begin() noexcept {
        hops_ = since_word_ = 0;
        peak_ = low_peak_ = 0;
    }

    /// `power` of the voice band and `low` of where a voice's pitch is; above `own` it is the
    /// operator's, and 3 dB above he speaks up: others may reach the first. True while it lasts.
    bool operator()(Power power, Power low, Power own) noexcept {
        if (power > 2 * own) begin();
        if (power > own) since_word_ = 0;
        if (since_word_ >= tail_) {
            peak_ = std::max(peak_, power);
            low_peak_ = std::max(low_peak_, low);
        }
        hops_ = std::min(hops_ + 1, lasts_);
        since_word_ = std::min(since_word_ + 1, tail_);
        return lasts();
    }

    bool lasts() const noexcept { return hops_ >= lasts_; }
    Power peak() const noexcept { return peak_; }
    Power low_peak() const noexcept { return low_peak_; }

    template <typename Visit> void memory(Visit& visit) {
        visit(hops_);
        visit(since_word_);
        visit(peak_);
        visit(low_peak_);
    }

private:
    long lasts_, tail_;
    long hops_ = 0, since_word_ = 0;
    Power peak_ = 0, low_peak_ = 0;
};

}  // namespace tripline::dsp
