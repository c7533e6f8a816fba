// Remembers that the receiver that came back on has passed for a voice.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// What sounds when the receiver is unmuted may be as clear and loud as a voice: a set's beep, or a
/// loudspeaker turned up during the over. What keys the station soon after an unmute and is over with the
/// mute would key it again as soon as the receiver is back, for ever. From then on nothing is believed
/// before the receiver has settled, and after each such spell in succession for twice as long, until
/// a voice that began as early has gone on, or an unmute has passed in which nothing sounded. One
/// withholds() a hop.
class Bursts {
public:
    Bursts(const BlankingSettings& settings, double hop_seconds)
        : settles_(hops(std::max(settings.unmute, Duration{shortest}), hop_seconds)),
          soon_(hops(1000ms, hop_seconds)),
          goes_on_(hops(300ms, hop_seconds)),
          since_(longest()) {}

    void unmuted() noexcept {
        since_ = 0;
        sounded_ = false;
    }

    /// Whether nothing is to be believed now.
    bool withholds() noexcept {
        if (since_ < longest() && ++since_ > withheld() + soon_ && !sounded_) doubts_ = 0;
        return since_ <= withheld();
    }
    /// What sounds now would open.
    void sounds() noexcept { sounded_ = true; }

    void begin() noexcept {
        early_ = since_ <= withheld() + soon_;
        since_ = longest();
        outlived_ = false;
        age_ = 0;
    }
    /// One call a hop of the spell.
    void operator()(bool voice) noexcept {
        if (age_ < goes_on_) ++age_;
        else outlived_ = outlived_ || voice;
    }
    /// True when the spell began soon after an unmute and was over with the mute.
    bool end(bool speech) noexcept {
        if (!early_) return false;
        early_ = false;
        const bool doubtful = !(speech && outlived_);
        doubts_ = doubtful ? std::min(doubts_ + 1, most) : 0;
        return doubtful;
    }
    /// Such spells in succession.
    int doubts() const noexcept { return doubts_; }

    void reset() noexcept {
        since_ = longest();
        doubts_ = 0;
        sounded_ = early_ = false;
    }
    template <typename Visit> void memory(Visit& visit) {
        for (bool* truth : {&sounded_, &early_, &outlived_}) visit(*truth);
        visit(doubts_, most + 1);
        visit(since_, longest() + 1);
        visit(age_, goes_on_ + 1);
    }

private:
    static constexpr auto shortest = 150ms;
    static constexpr int most = 8;  // so at most 19 s of the shortest

    static long hops(Duration duration, double hop_seconds) {
        return std::max(1L, std::lround(std::chrono::duration<double>(duration).count() / hop_seconds));
    }

    long withheld() const noexcept { return doubts_ > 0 ? settles_ << (doubts_ - 1) : 0; }
    long longest() const noexcept { return (settles_ << (most - 1)) + soon_ + 1; }

    long settles_, soon_, goes_on_;  // hops
    long since_;       // hops since the receiver was unmuted, as long as it is not muted again
    long age_ = 0;     // of the spell
    int doubts_ = 0;
    bool sounded_ = false;   // since the unmute something would have opened
    bool early_ = false;     // the spell began soon after
    bool outlived_ = false;  // and its voice the mute
};

}  // namespace tripline::dsp
