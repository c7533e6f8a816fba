// Remembers that the receiver that came back on has passed for a voice.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/recurrence.h"
#include "dsp/units.h"

#include <algorithm>
#include <utility>

namespace tripline::dsp {

/// What sounds when the receiver is unmuted may be as clear and loud as a voice: a set's beep, or a
/// loudspeaker turned up during the over. What keys the station soon after an unmute and is over with the
/// mute would key it again as soon as the receiver is back, for ever. From then on nothing is believed
/// before the receiver has settled, and after each such spell in succession for twice as long, up to 1.2 s, until
/// a voice that began as early has gone on, or an unmute has passed in silence, or two running in which nothing began
/// to sound when the last such spell did. One withholds() a hop. `path` is the delay from receiver input to microphone.
class Bursts {
public:
    Bursts(const BlankingSettings& settings, Duration path, double hop_seconds)
        : settles_(to_hops(std::max(settings.unmute, Duration{shortest}), hop_seconds)),
          longest_(std::max(settles_, to_hops(1200ms, hop_seconds))),
          soon_(to_hops(1000ms, hop_seconds)),
          dies_away_(to_hops(150ms + path, hop_seconds)),
          silent_(to_hops(300ms + path, hop_seconds)),
          tail_(to_hops(70ms + path, hop_seconds)),
          since_(past()),
          began_(past()),
          recurrence_(past(), hop_seconds) {}

    void unmuted() noexcept {
        since_ = 0;
        recurrence_.unmuted();
    }
    void muted() noexcept {
        mute_for_ = 1;
        since_ = past();
    }

    /// Whether nothing is to be believed now.
    bool withholds() noexcept {
        if (since_ < past() && ++since_ == early_until() + 1 && recurrence_.stayed_away()) doubts_ = 0;
        return since_ <= withheld();
    }
    /// Whether what sounds now would open.
    void sounds(bool opens) noexcept { recurrence_(since_, opens); }

    void begin() noexcept {
        early_ = since_ <= early_until();
        began_ = early_ ? recurrence_.began(since_) : past();
        since_ = past();
        outlived_ = long_after_ = false;
        mute_for_ = fallen_for_ = 0;
        peak_ = receiver_peak_ = 0;
    }
    /// One call a hop of the spell, with the powers of microphone and receiver. A loudspeaker gone mute is softer
    /// at once, sooner where the receiver is seen to fall, and soon not to be heard.
    void operator()(bool voice, Power power, Power receiver) noexcept {
        if (!early_ || long_after_) return;
        peak_ = std::max(peak_, power);
        receiver_peak_ = std::max(receiver_peak_, receiver);
        if (mute_for_ == 0) return;
        mute_for_ = std::min(mute_for_ + 1, silent_);
        fallen_for_ = receiver < fallen * receiver_peak_ ? std::min(fallen_for_ + 1, tail_) : 0;
        const bool near = voice && power > near_peak * peak_;
        long_after_ = (near && mute_for_ > dies_away_) || (voice && mute_for_ == silent_);
        outlived_ = outlived_ || long_after_ || (near && fallen_for_ == tail_);
    }
    /// True when the spell began soon after an unmute and was over with the mute, or was brief and has recurred.
    bool end(bool speech) noexcept {
        const bool early = std::exchange(early_, false);
        const bool again = recurrence_.again(began_, early && !long_after_);
        if (!early) return false;
        const bool doubtful = again || !(speech && outlived_);
        if (doubtful) recurrence_.doubt(began_);
        doubts_ = doubtful ? std::min(doubts_ + 1, most) : 0;
        return doubtful;
    }
    /// Such spells in succession.
    int doubts() const noexcept { return doubts_; }

    void reset() noexcept {
        since_ = past();
        doubts_ = 0;
        mute_for_ = fallen_for_ = 0;
        peak_ = receiver_peak_ = 0;
        recurrence_.reset();
        began_ = past();
        early_ = outlived_ = long_after_ = false;
    }
    template <typename Visit> void memory(Visit& visit) {
        for (bool* truth : {&early_, &outlived_, &long_after_}) visit(*truth);
        visit(doubts_, most + 1);
        for (long* since : {&since_, &began_}) visit(*since, past() + 1);
        visit(mute_for_, silent_ + 1);
        visit(fallen_for_, tail_ + 1);
        visit(peak_);
        visit(receiver_peak_);
        recurrence_.memory(visit);
    }

private:
    static constexpr auto shortest = 150ms;
    static constexpr int most = 5;
    static constexpr Power near_peak = 0.25F;
    static constexpr Power fallen = 0.01F;

    long withheld() const noexcept { return doubts_ > 0 ? std::min(settles_ << (doubts_ - 1), longest_) : 0; }
    long early_until() const noexcept { return std::max(withheld(), settles_) + soon_; }
    long past() const noexcept { return longest_ + soon_ + 1; }

    long settles_, longest_, soon_, dies_away_, silent_, tail_;  // hops
    long since_;       // hops since the receiver was unmuted, as long as it is not muted again
    long began_;       // that of this spell
    long mute_for_ = 0;      // hops of the spell with the receiver mute
    long fallen_for_ = 0;    // hops of that since the receiver was seen to fall
    Power peak_ = 0;         // of the spell
    Power receiver_peak_ = 0;
    int doubts_ = 0;
    Recurrence recurrence_;
    bool early_ = false;     // the spell began soon after
    bool outlived_ = false;  // and its voice the mute
    bool long_after_ = false;  // by so much that no path is as long
};

}  // namespace tripline::dsp
