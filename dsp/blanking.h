// Keeps the gate from opening while the station's own noises die away.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// Counts down from the station's relay moves and from the receiver being unmuted.
class Blanking {
public:
    Blanking(const BlankingSettings& settings, double hop_seconds)
        : relay_(hops(settings.relay, hop_seconds)), unmute_(hops(settings.unmute, hop_seconds)) {}

    void relays_moved() noexcept { left_ = std::max(left_, relay_); }
    void receiver_unmuted() noexcept { left_ = std::max(left_, unmute_); }

    /// True while opening is barred. One call a hop.
    bool operator()() noexcept {
        if (left_ == 0) return false;
        --left_;
        return true;
    }

    void reset() noexcept { left_ = 0; }
    template <typename Visit> void memory(Visit& visit) { visit(left_); }

private:
    static long hops(Duration duration, double hop_seconds) {
        return std::max(
            0L, std::lround(std::chrono::duration<double>(duration).count() / hop_seconds));
    }

    long relay_;
    long unmute_;
    long left_ = 0;
};

}  // namespace tripline::dsp
