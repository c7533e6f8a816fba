// Opens at one threshold, closes a little lower.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

namespace tripline::dsp {

/// Two thresholds. The sound that opens it has to qualify, see Onset. One call a hop.
class Gate {
public:
    explicit Gate(const GateSettings& settings)
        : closing_(static_cast<float>(to_ratio(Decibels{-settings.hysteresis.value}))) {}

    /// True while open.
    bool operator()(Power power, Power threshold, bool qualified) noexcept {
        open_ = open_ ? power >= closing_ * threshold : qualified && power > threshold;
        return open_;
    }

    void reset() noexcept { open_ = false; }
    template <typename Visit> void memory(Visit& visit) { visit(open_); }

private:
    float closing_;
    bool open_ = false;
};

}  // namespace tripline::dsp
