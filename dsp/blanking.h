// Keeps the gate from opening while the station's own noises die away.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

namespace tripline::dsp {

/// Which of the station's own noises may still be heard; of two the one that counts for more.
enum class Settling : unsigned char { nothing, receiver, relays };

/// Counts down from the station's relay moves and from the receiver being unmuted.
class Blanking {
public:
    Blanking(const BlankingSettings& settings, double hop_seconds)
        : relay_(to_hops(settings.relay, hop_seconds, 0)), unmute_(to_hops(settings.unmute, hop_seconds, 0)) {}

    void relays_moved() noexcept { relay_left_ = relay_; }
    void receiver_unmuted() noexcept { unmute_left_ = unmute_; }

    /// One call a hop.
    Settling operator()() noexcept {
        const bool receiver = count_down(unmute_left_);
        if (count_down(relay_left_)) return Settling::relays;
        return receiver ? Settling::receiver : Settling::nothing;
    }

    void reset() noexcept { relay_left_ = unmute_left_ = 0; }
    template <typename Visit> void memory(Visit& visit) {
        visit(relay_left_);
        visit(unmute_left_);
    }

private:
    static bool count_down(long& left) noexcept {
        if (left == 0) return false;
        --left;
        return true;
    }

    long relay_;
    long unmute_;
    long relay_left_ = 0;
    long unmute_left_ = 0;
};

}  // namespace tripline::dsp
