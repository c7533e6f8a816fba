// The ear of the station: two channels of samples in, one verdict per hop out.
#pragma once

#include "dsp/blanking.h"
#include "dsp/bursts.h"
#include "dsp/coupling.h"
#include "dsp/detector_settings.h"
#include "dsp/echo/canceller.h"
#include "dsp/ear.h"
#include "dsp/gate.h"
#include "dsp/heard.h"
#include "dsp/hold.h"
#include "dsp/leak.h"
#include "dsp/lull.h"
#include "dsp/murmur.h"
#include "dsp/noise_floor.h"
#include "dsp/onset.h"
#include "dsp/operator_level.h"
#include "dsp/room_sounds.h"
#include "dsp/sounds.h"
#include "dsp/spell.h"
#include "dsp/steadiness.h"
#include "dsp/units.h"

#include <array>
#include <memory>
#include <span>

namespace tripline::dsp {

/// The powers that a hop was decided by, before any adjustment of the gate.
struct Weighed {
    Power average = 0;    ///< microphone, not held; without what the echo model explains
    Power fast = 0;       ///< microphone less leak, not held
    Power remainder = 0;  ///< the same with the held peak
    Power others = 0;     ///< what the threshold is not under because of the room's other sounds
    float coupling = 0;   ///< of the leak
    Murmur::Weighed murmur{};  ///< the same where a voice's pitch is
};

/// Composes the chain: conditioning of both inputs, envelopes, leak prediction,
/// noise floor, gate, hold and blanking. Decisions fall at hops of a fixed number
/// of frames counted from the start of the stream, so the size of the caller's
/// blocks cannot change them. No heap, lock, clock or I/O after construction.
/// Used by one thread at a time.
class Detector {
public:
    /// Any rate from 8 to 192 kHz. Throws std::invalid_argument outside it.
    Detector(const DetectorSettings& settings, Hertz rate);

    /// Frames in a hop, about a millisecond.
    Frames hop() const noexcept { return {hop_}; }

    /// Takes frames; a missing receiver is silent. `hop_ended(frames)` is called at the end of each
    /// hop, so many frames into these, with heard() new; it may say that relays or mute have
    /// moved, or reset.
    template <typename HopEnded>
    void push(std::span<const float> microphone, std::span<const float> receiver, HopEnded hop_ended) noexcept;
    /// Takes one frame. True when it ends a hop: heard() is then new.
    bool push(float microphone, float receiver) noexcept {
        bool ended = false;
        push({&microphone, 1}, {&receiver, 1}, [&](std::size_t) { ended = true; });
        return ended;
    }

    /// Judges a hop as a push() that ends it, from what an ear of the same band, envelope, windows and
    /// rate has heard, with its periodicity. With the envelope method.
    void judge_heard(const Sounds& sounds) noexcept;

    const Heard& heard() const noexcept { return heard_; }
    const Weighed& weighed() const noexcept { return weighed_; }

    /// How far the echo model can be trusted; nothing is claimed with the envelope method.
    echo::Trust trust() const noexcept { return canceller_ ? canceller_->trust() : echo::Trust{}; }

    /// The station's relays have just moved: no opening for the set time from now.
    void relays_moved() noexcept {
        blanking_.relays_moved();
        room_.relays_moved();
    }
    /// The receiver has just been muted or unmuted by the station.
    void receiver_muted(bool muted) noexcept;

    /// Shows a visitor what the ear heard, or what was concluded from it:
    /// `visit(figure)` for a number, a truth or an array, `visit(place, size)` for a number below
    /// `size`. The visitor may set them. Two detectors of the same settings and rate that
    /// show the same do the same from then on; so do two of other settings as far as these make
    /// no difference, with the envelope method. Between hops; what is shown of the past is put
    /// into the order of time first.
    template <typename Visit> void memory_of_sounds(Visit& visit) {
        ear_.memory(visit);
        if (canceller_) memory_of_echo(visit);
    }
    template <typename Visit> void memory_of_judgement(Visit& visit);
    /// Of that what holds beyond the moment: how loud room, receiver and operator are. Between
    /// detectors of one rate, whatever their settings.
    template <typename Visit> void memory_of_learning(Visit& visit) {
        coupling_.memory(visit);
        floor_.memory(visit);
        room_.memory_of_learning(visit);
        murmur_.memory_of_learning(visit);
        operator_.memory(visit);
    }

    /// Back to the state after construction; the frame count goes on.
    void reset() noexcept;

    bool has_echo_model() const noexcept { return canceller_ != nullptr; }
    /// Of the first what the echo model knows, if there is one. Between detectors of one rate, whatever their settings.
    template <typename Visit> void memory_of_echo(Visit& visit) {
        canceller_->memory(visit);
        visit(hops_since_mute_);
        visit(outlived_mute_);
        visit(was_sure_);
        visit(may_be_trip_);
    }

private:
    std::span<const Sounds> hear(std::span<const float> microphone, std::span<const float> receiver) noexcept;
    void judge() noexcept;
    bool sure() const noexcept { return canceller_ && canceller_->sure(); }
    bool unsure() const noexcept { return canceller_ && !canceller_->sure(); }
    bool loudspeaker_silent() const noexcept { return muted_ && muted_on_air_; }
    void take_out_receiver(std::span<const Pair> sound, Voicing& voicing) noexcept;
    echo::Residue residue() noexcept;
    bool may_be_leak(Power leak) const noexcept;
    bool murmurs_over(Power leak) const noexcept;
    Power threshold(Power leak) noexcept;
    Power others_in_spell(Power clutter) noexcept;
    bool begins(Power leak, bool talks) noexcept;
    Cause station_noise(bool begin) noexcept;
    bool outdoes(Settling settling) const noexcept;
    bool murmurs() noexcept;
    void watch_spell(bool was_held) noexcept;
    void let_go() noexcept;
    void end_burst(bool speech) noexcept;
    void watch_for_trip(bool was_held) noexcept;
    bool outlives_mute() const noexcept;
    void end_spell(Cause cause) noexcept;
    Cause cause_of_silence(Cause barred) const noexcept;

    static constexpr int hops_a_look = 2;  // at the pitch, while something may be a voice

    GateSettings gate_settings_;
    Power lowest_threshold_;
    float above_floor_;
    float under_voice_;
    float near_voice_;
    bool muted_on_air_;
    std::int64_t hop_;
    double hop_seconds_;

    long hops_to_mute_;
    long hops_to_fall_silent_;
    std::unique_ptr<echo::Canceller> canceller_;  // with the echo method only
    Ear ear_;
    Coupling coupling_;
    Leak leak_;
    NoiseFloor floor_;
    RoomSounds room_;
    Onset onset_;
    Murmur murmur_;
    Gate gate_;
    Blanking blanking_;
    Bursts bursts_;
    Hold hold_;
    Spell spell_;
    Lull lull_;
    std::array<Steadiness, 3> steadiness_;   // of the means
    OperatorLevel operator_;

    bool anew_ = false;   // reset while hops were judged
    Sounds sounds_;
    Weighed weighed_;
    bool muted_ = false;
    long hops_since_mute_ = 0;
    bool outlived_mute_ = false;
    bool was_sure_ = false;    // the echo model, before the spell
    bool may_be_trip_ = false;
    float periodicity_ = 0;
    int hops_since_look_ = 0;  // less than hops_a_look
    bool barred_ = false;
    Heard heard_;
};

template <typename HopEnded>
void Detector::push(std::span<const float> microphone, std::span<const float> receiver, HopEnded hop_ended) noexcept {
    std::size_t at = 0;
    while (at < microphone.size()) {
        // The echo model depends on what has been decided: no further than the hop.
        const std::size_t most = canceller_ ? std::min(ear_.left(), Ear::most) : Ear::most;
        const std::size_t count = std::min(most, microphone.size() - at);
        std::size_t end = at + ear_.left();
        anew_ = false;
        const auto heard = hear(stretch(microphone, at, count), stretch(receiver, at, count));
        at += count;
        for (const Sounds& sounds : heard) {
            judge_heard(sounds);
            hop_ended(end);
            if (anew_) {  // what was heard from here on is heard again, by a fresh ear
                ear_.to_hop();
                at = end;
                break;
            }
            end += static_cast<std::size_t>(hop_);
        }
    }
}

template <typename Visit> void Detector::memory_of_judgement(Visit& visit) {
    visit(heard_.voice);
    visit(heard_.held);
    visit(heard_.cause, Cause::not_finite);
    visit(barred_);
    visit(muted_);
    visit(periodicity_);
    visit(hops_since_look_, hops_a_look);
    if (heard_.held) {
        spell_.memory(visit);
        lull_.memory(visit);
        visit(weighed_.murmur.power);
    }
    if (canceller_) visit(heard_.measures.floor);
    memory_of_learning(visit);
    leak_.memory(visit);
    onset_.memory(visit);
    room_.memory_of_moment(visit);
    murmur_.memory_of_moment(visit);
    gate_.memory(visit);
    blanking_.memory(visit);
    bursts_.memory(visit);
    hold_.memory(visit);
    for (Steadiness& steadiness : steadiness_) steadiness.memory(visit);
}

}  // namespace tripline::dsp
