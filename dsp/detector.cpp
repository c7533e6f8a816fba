#include "dsp/detector.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tripline::dsp {

namespace {

/// While the operator holds the key, other sounds of the room lift the threshold no higher
/// than 12 dB under the peaks of this spell, and to there once he has not spoken up for a while,
/// whatever is known of them. A soft word does not let other talkers of the room
/// hold the key: of his usual peaks it counts as no more than 1.5 dB short.
constexpr float under_own_peak = 0.063F;
constexpr float usual_peak = 0.7F;
/// Of what is left as much as was subtracted for the receiver may be what the prediction was short of: no voice
/// begins by that, and it is no sound of the room. While an echo model is not sure yet the envelope guards more
/// loosely, half as much, and keeps such a sound in mind instead.
constexpr float over_leak = 1.0F;
constexpr float over_leak_unsure = 0.5F;
/// Up to 6 dB over what it may leave only a clear pitch counts.
constexpr float near_residue = 4.0F;
/// And a murmur while the loudspeaker talks has to be 4 dB over what may be others'.
constexpr float over_others = 2.5F;
/// What is as loud as the operator and 6 dB over the leak is not the loudspeaker, though it talks.
constexpr float far_over_leak = 4.0F;

/// A soft beginning of a word seldom takes longer to qualify; so long the hang time waits for one at its end.
constexpr auto longest_qualifying = 150ms;

std::unique_ptr<echo::Canceller> make_canceller(const DetectorSettings& settings, Hertz rate,
                                                double hop_seconds) {
    if (!settings.leak.enabled || settings.leak.method != AntiTrip::echo) return nullptr;
    return std::make_unique<echo::Canceller>(settings, rate, hop_seconds);
}

}  // namespace

Detector::Detector(const DetectorSettings& settings, Hertz rate)
    : gate_settings_(settings.gate),
      lowest_threshold_(to_power(settings.gate.open)),
      above_floor_(static_cast<float>(to_ratio(settings.gate.above_floor))),
      under_voice_(static_cast<float>(to_ratio(Decibels{-settings.evidence.clutter.under_voice.value}))),
      near_voice_(static_cast<float>(to_ratio(Decibels{-settings.evidence.onset.near_voice.value}))),
      muted_on_air_(settings.leak.muted_on_air),
      hop_(Ear::hop_at(rate).count),
      hop_seconds_(static_cast<double>(hop_) / rate.value),
      hops_to_mute_(to_hops(50ms, hop_seconds_)),
      hops_to_fall_silent_(to_hops(300ms, hop_seconds_)),
      canceller_(make_canceller(settings, rate, hop_seconds_)),
      ear_(settings, rate, canceller_ ? canceller_->rate() : rate),
      coupling_(settings.leak),
      leak_(settings.leak, hop_seconds_),
      floor_(hop_seconds_),
      room_(settings, hop_seconds_),
      onset_(settings.evidence.onset, settings.gate.qualify, hop_seconds_),
      murmur_(settings, hop_seconds_),
      gate_(settings.gate),
      blanking_(settings.blanking, hop_seconds_),
      bursts_(settings.blanking, settings.leak.delay, hop_seconds_),
      hold_(to_hops(settings.hold, hop_seconds_, 0), to_hops(longest_qualifying, hop_seconds_)),
      spell_(settings.evidence.spell, hop_seconds_),
      lull_(settings.evidence.lull, hop_seconds_),
      steadiness_{Steadiness(settings.evidence.hum_50, hop_seconds_),
                  Steadiness(settings.evidence.hum_60, hop_seconds_),
                  Steadiness(settings.evidence.drone, hop_seconds_)},
      operator_(settings.evidence.clutter, hop_seconds_) {}

void Detector::receiver_muted(bool muted) noexcept {
    if (muted_ && !muted) {
        blanking_.receiver_unmuted();
        bursts_.unmuted();
    }
    if (muted && !muted_) {
        hops_since_mute_ = 0;
        bursts_.muted();
    }
    muted_ = muted;
}

void Detector::reset() noexcept {
    anew_ = true;
    ear_.reset();
    if (canceller_) canceller_->reset();
    coupling_.reset();
    leak_.reset();
    floor_.reset();
    room_.reset();
    onset_.reset();
    murmur_.reset();
    for (Steadiness& steadiness : steadiness_) steadiness.reset();
    gate_.reset();
    blanking_.reset();
    bursts_.reset();
    hold_.reset();
    operator_.reset();
    periodicity_ = 0;
    hops_since_mute_ = 0;
    outlived_mute_ = false;
    was_sure_ = false;
    barred_ = false;
    heard_ = {};
}

std::span<const Sounds> Detector::hear(std::span<const float> microphone, std::span<const float> receiver) noexcept {
    if (!canceller_) return ear_.hear(microphone, receiver);
    return ear_.hear(microphone, receiver,
                     [this](std::span<const Pair> sound, Voicing& voicing) { take_out_receiver(sound, voicing); });
}

void Detector::judge_heard(const Sounds& sounds) noexcept {
    sounds_ = sounds;
    if (std::isfinite(sounds.average[0]) && std::isfinite(sounds.average[1])) return judge();
    reset();
    heard_.cause = Cause::not_finite;
}

/// Whether what is left after the leak was subtracted may be no more than the loudspeaker.
bool Detector::may_be_leak(Power leak) const noexcept {
    return weighed_.fast <= (unsure() ? over_leak_unsure : over_leak) * leak;
}

inline Power Detector::threshold(Power leak) noexcept {
    const Power floor = heard_.measures.floor;
    const bool loudspeaker = !unsure() && may_be_leak(leak);
    const Power others = room_(loudspeaker ? 0.0F : weighed_.fast, floor, under_voice_ * operator_.peak(), heard_.held);
    weighed_.others = heard_.held ? others_in_spell(others) : others;
    if (gate_settings_.threshold == Threshold::fixed) return lowest_threshold_;
    return std::max({lowest_threshold_, above_floor_ * floor, weighed_.others});
}

/// What murmured has a pitch: it may prove itself over the noise floor, be it softer than the room's sounds.
inline Power Detector::others_in_spell(Power clutter) noexcept {
    if (!spell_.proven()) return spell_.murmured() ? 0.0F : clutter;
    const Power own = under_own_peak * std::max(spell_.peak(), usual_peak * operator_.peak());
    return lull_(weighed_.fast, weighed_.murmur.power, own) ? own : std::min(clutter, own);
}

void Detector::take_out_receiver(std::span<const Pair> sound, Voicing& voicing) noexcept {
    std::array<Pair, Ear::most> left;
    std::size_t count = 0;
    const bool silent = loudspeaker_silent();
    for (const Pair sample : sound) {
        if (canceller_->push(silent ? Pair{sample[0], 0} : sample))
            left[count++] = Pair{canceller_->residual(), canceller_->receiver()};
    }
    voicing.push(std::span(left).first(count));
}

/// The microphone as the gate is to see it, by the method that is set.
inline echo::Residue Detector::residue() noexcept {
    const Pair power = sounds_.peak;
    const Power receiver = loudspeaker_silent() ? 0.0F : power[1];
    weighed_.coupling = coupling_(sounds_.balance, heard_.held || loudspeaker_silent(), floor_.floor());
    const Power leak = leak_(receiver, weighed_.coupling);
    if (canceller_) return canceller_->end_hop({receiver, leak, weighed_.coupling, heard_.measures.floor, heard_.held});
    return {power[0], sounds_.average[0], leak};
}

inline void Detector::judge() noexcept {
    const Pair power = sounds_.peak;
    const echo::Residue left = residue();
    Measures& m = heard_.measures;
    m.microphone = power[0];
    m.receiver = power[1];
    m.leak = power[0] - left.power + left.leak;
    m.floor = floor_(left.average, sure() ? 0.0F : left.leak);

    operator_.surroundings(m.floor, m.receiver, weighed_.coupling);
    weighed_.average = left.average;
    weighed_.fast = std::max(0.0F, left.average - left.leak);
    m.remainder = weighed_.remainder = std::max(0.0F, left.power - left.leak);
    m.threshold = threshold(left.leak);

    const bool was_held = heard_.held;
    const bool talks = left.leak > under_own_peak * operator_.peak();  // the loudspeaker, with pitch
    const bool murmur = murmurs() && (!talks || murmurs_over(left.leak));
    const bool begin = begins(left.leak, talks) && !may_be_leak(left.leak);
    const Cause barred = station_noise(begin);
    const bool free = barred == Cause::quiet;
    if (weighed_.remainder < m.threshold) barred_ = false;
    const bool open = free && !barred_ && gate_(weighed_.remainder, m.threshold, begin);
    heard_.voice = open || (murmur && !was_held && free && !barred_);
    heard_.held = hold_(heard_.voice, free && !barred_ && weighed_.remainder > m.threshold);
    heard_.cause = open ? Cause::voice : heard_.voice ? Cause::murmur : cause_of_silence(barred);
    watch_spell(was_held);
}

/// Whether what murmurs is no loudspeaker that talks: as loud as the operator, 4 dB over what the room and the receiver
/// make there, and with more in the voice band than the leak: by as much as a sure echo model may leave, else far more.
bool Detector::murmurs_over(Power leak) const noexcept {
    const Power least = std::max(over_others * weighed_.murmur.others, near_voice_ * operator_.peak());
    const bool over = sure() ? !may_be_leak(leak) : weighed_.fast > far_over_leak * leak;
    return over && weighed_.murmur.power > least;
}

/// Whether the sound now has qualified as the beginning of a voice. A pitch alone is not enough where
/// the loudspeaker may have made it, nor in a proven spell, which another talker might then keep up.
inline bool Detector::begins(Power leak, bool talks) noexcept {
    const Power threshold = heard_.measures.threshold;
    const bool above = onset_.follow(weighed_.fast, threshold);
    const bool near_voice = operator_.known() && weighed_.remainder > near_voice_ * operator_.peak();
    const bool loudspeaker = talks && !(near_voice && weighed_.remainder > far_over_leak * leak);
    const bool others = loudspeaker || weighed_.remainder <= leak || (heard_.held && spell_.proven());
    const bool sung = onset_.sung(periodicity_, weighed_.remainder > threshold && !others, near_voice);
    const bool wary = room_.wary() || (sure() && weighed_.fast <= near_residue * leak);
    return sung || (above && onset_.qualified(periodicity_, wary, sure()));
}

/// Which of the station's own noises bars an opening now; quiet for none. A receiver that comes back on may burst.
Cause Detector::station_noise(bool begin) noexcept {
    const Settling settling = blanking_();
    const bool withheld = bursts_.withholds();
    heard_.self_keyed = bursts_.doubts();
    if (heard_.voice) return Cause::quiet;
    bursts_.sounds(begin);
    if (settling == Settling::nothing) return withheld ? Cause::withheld : Cause::quiet;
    return withheld || !outdoes(settling) ? Cause::blanked : Cause::quiet;
}

/// What sings, and is more than the echo model can be short of or than the receiver ever was, is not the receiver; nor
/// is it the relays if they are known to make less.
bool Detector::outdoes(Settling settling) const noexcept {
    if (!onset_.sings()) return false;
    if (settling == Settling::relays && !room_.outdoes_relays(weighed_.fast)) return false;
    return sure() || operator_.outdoes_receiver(weighed_.remainder, weighed_.coupling);
}

/// Looks for pitch every few hops while something may be a voice; true when it murmurs.
inline bool Detector::murmurs() noexcept {
    const bool silent = loudspeaker_silent();
    const Pair power = silent ? Pair{sounds_.low[0], 0} : sounds_.low;
    const bool may = murmur_.follow(power, sounds_.low_balance, heard_.held || silent, heard_.held,
                                    {operator_.known_peak(), operator_.heard_peak(), weighed_.average});
    weighed_.murmur = murmur_.weighed();
    const bool looking = periodicity_ > 0 || hops_since_look_ > 0;
    const bool goes_on = looking && weighed_.remainder > heard_.measures.threshold;
    if (!may && !onset_.following() && !goes_on) {
        periodicity_ = 0;
        hops_since_look_ = 0;
        murmur_.silence();
        return false;
    }
    if (++hops_since_look_ == hops_a_look) {
        hops_since_look_ = 0;
        periodicity_ = sounds_.periodicity ? *sounds_.periodicity : ear_.periodicity(sounds_);
    }
    return murmur_(periodicity_, room_.wary());
}

inline Cause Detector::cause_of_silence(Cause barred) const noexcept {
    const Measures& m = heard_.measures;
    if (barred == Cause::blanked) return barred;
    if (barred_) return heard_.cause;
    if (barred == Cause::withheld && weighed_.remainder > m.threshold) return barred;
    if (onset_.following()) return Cause::qualifying;
    return m.microphone > m.threshold && weighed_.remainder <= m.threshold ? Cause::masked : Cause::quiet;
}

inline void Detector::watch_spell(bool was_held) noexcept {
    if (canceller_) watch_for_trip(was_held);
    bool steady = false;
    for (std::size_t i = 0; i < steadiness_.size(); ++i)
        steady = steadiness_[i](sounds_.means[i], heard_.voice) || steady;
    if (!heard_.held) {
        if (was_held) let_go();
        return;
    }
    if (!was_held) {
        spell_.begin(heard_.cause == Cause::murmur);
        murmur_.keyed(heard_.cause == Cause::murmur);
        lull_.begin();
        bursts_.begin();
    }
    bursts_(heard_.voice, sounds_.average[0], sounds_.average[1]);
    const Spell::Verdict verdict =
        spell_(heard_.measures.microphone, heard_.voice, periodicity_);
    if (steady || verdict == Spell::Verdict::steady) end_spell(Cause::steady);
    else if (verdict == Spell::Verdict::not_speech) end_spell(Cause::not_speech);
}

/// The hang time is over. What others said meanwhile, if they held the key, is the room's.
void Detector::let_go() noexcept {
    end_burst(true);
    const bool his = spell_.peak() > under_own_peak * usual_peak * operator_.peak();
    if (his && spell_.clear()) {
        operator_.heard(spell_.peak());
        murmur_.operator_spoke();
    }
    if (!lull_.lasts()) return;
    room_.mistaken(lull_.peak());
    murmur_.heard_others(lull_.low_peak());
}

/// What keyed twice running as soon as the receiver was back is the receiver: it may have been turned up.
void Detector::end_burst(bool speech) noexcept {
    const bool doubtful = bursts_.end(speech);
    heard_.self_keyed = bursts_.doubts();
    if (!doubtful || heard_.self_keyed < 2 || !muted_on_air_) return;
    coupling_.raise();
    murmur_.raise_leak();
}

/// A spell in which nobody spoke once the receiver was mute was keyed by the receiver.
void Detector::watch_for_trip(bool was_held) noexcept {
    if (!was_held) {
        outlived_mute_ = false;
        was_sure_ = sure();
        may_be_trip_ = canceller_->may_have_made(sounds_.average[0]);
    }
    if (muted_) ++hops_since_mute_;
    if (muted_ && heard_.voice && outlives_mute()) outlived_mute_ = true;
    const bool over = was_held && !heard_.held && loudspeaker_silent();
    if (over && may_be_trip_ && !outlived_mute_) canceller_->distrust();
}

/// Whether a sound is no longer the loudspeaker's: by the time since the mute, or sooner by the echo model.
bool Detector::outlives_mute() const noexcept {
    if (hops_since_mute_ > hops_to_fall_silent_) return true;
    return was_sure_ && hops_since_mute_ > hops_to_mute_ && canceller_->outlasts_receiver();
}

/// Lets go at once, and stays shut until the sound that held the gate is over.
void Detector::end_spell(Cause cause) noexcept {
    gate_.reset();
    hold_.reset();
    end_burst(false);
    room_.mistaken(spell_.peak());
    murmur_.mistaken();
    barred_ = true;
    heard_.voice = heard_.held = false;
    heard_.cause = cause;
}

}  // namespace tripline::dsp
