// Knows how loud the station's own relays are at the microphone.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>

namespace tripline::dsp {

/// Relays that can be heard sound alike each time the station goes back to receive. What sounded after the last
/// few such moves they may have made, and may make after the next; what sounded after one of them alone, a word or
/// a door, they have not. One call a hop.
class RelayNoise {
public:
    RelayNoise(const BlankingSettings& settings, double hop_seconds)
        : window_(to_hops(settings.relay + dies_away, hop_seconds)) {
        reset();
    }

    void relays_moved() noexcept { left_ = window_; }
    /// While they may still be heard.
    bool settling() const noexcept { return left_ > 0; }

    /// The power they may make now; 0 for none. `power` is the sound now, while the station is keyed the operator's;
    /// `floor` the noise floor.
    Power operator()(Power power, Power floor, bool keyed) noexcept {
        if (!settling()) return 0;
        spoilt_ = spoilt_ || keyed;
        peak_ = std::max(peak_, power);
        const Power now = expected();
        if (--left_ == 0) end(power < std::max(died_away * peak_, near_floor * floor));
        return now;
    }
    Power expected() const noexcept { return margin * *std::min_element(past_.begin(), past_.end()); }

    /// Whether it was much the same each time: nothing but the relays does that.
    bool known() const noexcept {
        const auto [least, most] = std::minmax_element(past_.begin(), past_.end());
        return *most < alike * *least;
    }

    void reset() noexcept {
        past_.fill(0);
        left_ = 0;
        begin();
    }
    /// What holds beyond the moment.
    template <typename Visit> void memory_of_learning(Visit& visit) { visit(past_); }
    template <typename Visit> void memory_of_moment(Visit& visit) {
        visit(peak_);
        visit(left_);
        visit(spoilt_);
    }

private:
    static constexpr Duration dies_away = 70ms;  // after the blanking
    static constexpr Power margin = 4.0F;        // no two strikes are alike,
    static constexpr Power alike = 2.5F;         // but nearly
    static constexpr Power died_away = 0.1F;     // of the peak, when the window ends,
    static constexpr Power near_floor = 4.0F;    // or of the noise floor

    void begin() noexcept {
        peak_ = 0;
        spoilt_ = false;
    }
    /// What has not died away by then goes on where nothing is known of it.
    void end(bool quiet) noexcept {
        if (!spoilt_) {
            std::copy_backward(past_.begin(), past_.end() - 1, past_.end());
            past_.front() = quiet ? peak_ : 0;
        }
        begin();
    }

    long window_;   // hops
    std::array<Power, 3> past_{};   // the last first
    Power peak_ = 0;
    long left_ = 0;         // hops that they may still be heard
    bool spoilt_ = false;   // keyed meanwhile
};

}  // namespace tripline::dsp
