// Knows how loud the station's own relays are at the microphone.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tripline::dsp {

/// Relays that can be heard sound alike each time the station goes back to receive. What sounded after the last
/// few such moves they may have made, and may make after the next; what sounded after one of them alone, a word or
/// a door, they have not. One call a hop.
class RelayNoise {
public:
    RelayNoise(const BlankingSettings& settings, double hop_seconds)
        : window_(std::max(1L, std::lround(std::chrono::duration<double>(settings.relay + dies_away).count() / hop_seconds))) {
        reset();
    }

    void relays_moved() noexcept { since_ = 0; }
    /// While they may still be heard.
    bool settling() const noexcept { return since_ < window_; }

    /// The power they may make now; 0 for none. `power` is the sound now, while the station is keyed the operator's.
    Power operator()(Power power, bool keyed) noexcept {
        if (!settling()) return 0;
        spoilt_ = spoilt_ || keyed;
        peak_ = std::max(peak_, power);
        const Power now = expected();
        if (++since_ == window_) end();
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
        since_ = window_;
        begin();
    }
    /// What holds beyond the moment.
    template <typename Visit> void memory_of_learning(Visit& visit) { visit(past_); }
    template <typename Visit> void memory_of_moment(Visit& visit) {
        visit(peak_);
        visit(since_, window_ + 1);
        visit(spoilt_);
    }

private:
    static constexpr Duration dies_away = 70ms;  // after the blanking
    static constexpr Power margin = 4.0F;        // no two strikes are alike,
    static constexpr Power alike = 2.5F;         // but nearly

    void begin() noexcept {
        peak_ = 0;
        spoilt_ = false;
    }
    void end() noexcept {
        if (!spoilt_) {
            std::copy_backward(past_.begin(), past_.end() - 1, past_.end());
            past_.front() = peak_;
        }
        begin();
    }

    long window_;   // hops
    std::array<Power, 3> past_{};   // the last first
    Power peak_ = 0;
    long since_ = 0;        // hops since the last move
    bool spoilt_ = false;   // keyed meanwhile
};

}  // namespace tripline::dsp
