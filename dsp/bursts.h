// Remembers that the station's own burst has passed for a voice.
#pragma once

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// A sound of the station's own when the receiver is unmuted, a set's beep say, may be as clear and loud
/// as a voice. What keys the station then and is over with the mute would key it again as soon as the
/// receiver is back, for ever: from then on nothing is believed so early, until a voice that began
/// as early has gone on.
class Bursts {
public:
    explicit Bursts(double hop_seconds) : goes_on_(std::max(1L, std::lround(0.3 / hop_seconds))) {}

    /// A sound like a voice while the receiver settles; true when it may be believed.
    bool believes() noexcept {
        early_ = true;
        return !suspected_;
    }
    /// That sound is over, and has opened nothing.
    void silence() noexcept { early_ = false; }

    void begin() noexcept {
        spell_early_ = early_;
        early_ = outlived_ = false;
        age_ = 0;
    }
    /// One call a hop of the spell.
    void operator()(bool voice) noexcept {
        if (age_ < goes_on_) ++age_;
        else outlived_ = outlived_ || voice;
    }
    void end(bool speech) noexcept {
        if (spell_early_) suspected_ = !(speech && outlived_);
        spell_early_ = false;
    }

    void reset() noexcept { *this = Bursts(goes_on_); }
    template <typename Visit> void memory(Visit& visit) {
        for (bool* truth : {&early_, &spell_early_, &outlived_, &suspected_}) visit(*truth);
        visit(age_, goes_on_ + 1);
    }

private:
    explicit Bursts(long goes_on) : goes_on_(goes_on) {}

    long goes_on_;  // hops
    long age_ = 0;  // of the spell
    bool early_ = false;
    bool spell_early_ = false;
    bool outlived_ = false;
    bool suspected_ = false;
};

}  // namespace tripline::dsp
