// The ear of the station: two channels of samples in, one verdict per hop out.
#pragma once

#include "dsp/blanking.h"
#include "dsp/clutter.h"
#include "dsp/coupling.h"
#include "dsp/detector_settings.h"
#include "dsp/echo/canceller.h"
#include "dsp/envelope.h"
#include "dsp/gate.h"
#include "dsp/heard.h"
#include "dsp/hold.h"
#include "dsp/leak.h"
#include "dsp/noise_floor.h"
#include "dsp/onset.h"
#include "dsp/operator_level.h"
#include "dsp/spell.h"
#include "dsp/steadiness.h"
#include "dsp/units.h"
#include "dsp/voice_band.h"
#include "dsp/voicing.h"

#include <memory>

namespace tripline::dsp {

/// Composes the chain: conditioning of both inputs, envelopes, leak prediction,
/// noise floor, gate, hold and blanking. Decisions fall at hops of a fixed number
/// of frames counted from the start of the stream, so the size of the caller's
/// blocks cannot change them. No heap, lock, clock or I/O after construction.
/// Used by one thread at a time.
class Detector {
public:
    /// Any rate from 8 to 192 kHz. Throws std::invalid_argument outside it.
    Detector(const DetectorSettings& settings, Hertz rate);

    /// Frames in a hop, about 0.5 ms.
    Frames hop() const noexcept { return {hop_}; }

    /// Takes one frame. True when it ends a hop: heard() is then new.
    bool push(float microphone, float receiver) noexcept {
        envelope_(band_(Pair{microphone, receiver}));
        if (canceller_) take_out_receiver(band_.without_dc());
        else voicing_.push(band_.without_dc()[0]);
        if (++frame_ < hop_) return false;
        frame_ = 0;
        end_hop();
        return true;
    }

    const Heard& heard() const noexcept { return heard_; }

    /// How far the echo model can be trusted; nothing is claimed with the envelope method.
    echo::Trust trust() const noexcept { return canceller_ ? canceller_->trust() : echo::Trust{}; }

    /// The station's relays have just moved: no opening for the set time from now.
    void relays_moved() noexcept { blanking_.relays_moved(); }
    /// The receiver has just been muted or unmuted by the station.
    void receiver_muted(bool muted) noexcept;

    /// Back to the state after construction; the frame count goes on.
    void reset() noexcept;

private:
    void end_hop() noexcept;
    void judge() noexcept;
    bool loudspeaker_silent() const noexcept { return muted_ && muted_on_air_; }
    void take_out_receiver(Pair sample) noexcept;
    echo::Residue residue() noexcept;
    Power threshold(Power fast) noexcept;
    bool begins(Power fast) noexcept;
    void watch_spell(bool was_held) noexcept;
    void watch_for_trip(bool was_held) noexcept;
    void end_spell(Cause cause) noexcept;
    Cause cause_of_silence(bool blanked) const noexcept;

    GateSettings gate_settings_;
    Power lowest_threshold_;
    float above_floor_;
    float under_voice_;
    bool muted_on_air_;
    std::int64_t hop_;
    double hop_seconds_;

    VoiceBand band_;
    Envelope envelope_;
    long hops_to_fall_silent_;
    std::unique_ptr<echo::Canceller> canceller_;  // with the echo method only
    Voicing voicing_;
    Coupling coupling_;
    Leak leak_;
    NoiseFloor floor_;
    Clutter clutter_;
    Onset onset_;
    Gate gate_;
    Blanking blanking_;
    Hold hold_;
    Spell spell_;
    Steadiness hum_50_, hum_60_, drone_;
    OperatorLevel operator_;

    std::int64_t frame_ = 0;
    bool muted_ = false;
    long hops_since_mute_ = 0;
    bool outlived_mute_ = false;
    float periodicity_ = 0;
    bool barred_ = false;
    Heard heard_;
};

}  // namespace tripline::dsp
