// Takes the loudspeaker out of the microphone, and says what may be left of it.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/echo/clock_watch.h"
#include "dsp/echo/decimator.h"
#include "dsp/echo/explained.h"
#include "dsp/echo/share.h"
#include "dsp/echo/trust.h"
#include "dsp/echo/two_paths.h"
#include "dsp/envelope.h"
#include "dsp/voice_band.h"

namespace tripline::dsp::echo {

/// What the gate is to judge, at the end of a hop.
struct Residue {
    Power power = 0;    ///< envelope of the microphone less the modelled sound of the receiver
    Power average = 0;  ///< the same without the held peak
    Power leak = 0;     ///< what of it may still be the receiver
};

/// Models the path from receiver to microphone, subtracts its sound, and measures how
/// much of the prediction was left while nobody spoke. Until the model is sure, the leak
/// that the envelope method expects stands. No heap after construction.
/// Used by one thread at a time.
class Canceller {
public:
    Canceller(const DetectorSettings& settings, Hertz rate, double hop_seconds);

    /// One frame, free of DC; the receiver as 0 while the loudspeaker is silent.
    /// True when residual() is new.
    bool push(Pair sample) noexcept {
        if (!decimator_.push(sample)) return false;
        model(decimator_.out());
        return true;
    }

    /// The microphone less the modelled sound of the receiver, at the model's rate.
    float residual() const noexcept { return paths_.residual(); }
    /// The receiver beside it.
    float receiver() const noexcept { return decimator_.out()[1]; }
    Hertz rate() const noexcept { return decimator_.rate(); }

    /// What the rest of the detector knows of a hop.
    struct Hop {
        Power receiver = 0;      ///< the receiver's envelope
        Power expected = 0;      ///< the leak by the envelope method
        float coupling = 0;      ///< by which it was expected
        Power room = 0;          ///< the noise floor
        bool speaking = false;   ///< the station holds the key
    };
    Residue end_hop(const Hop& hop) noexcept;

    Trust trust() const noexcept;
    /// The model guards, not the envelope alone.
    bool sure() const noexcept { return sure_; }

    /// Whether the loudspeaker may have made a sound of this power just now: its coupling can
    /// have risen by 12 dB since it was learnt.
    bool may_have_made(Power power) const noexcept;
    /// Whether more is left than the room can still hold of a receiver that has gone mute,
    /// its coupling risen by as much. For a model that was sure.
    bool outlasts_receiver() const noexcept;

    /// The loudspeaker has keyed the station: what was measured no longer holds. A sounding
    /// receiver masks up to 12 dB more than expected until its coupling is known anew, and that
    /// coupling counts until the model is sure, or has had time to be learnt by the envelopes.
    void distrust() noexcept;

    void reset() noexcept;

    /// See Detector::memory_of_sounds(). Between hops.
    template <typename Visit> void memory(Visit& visit) {
        decimator_.memory(visit);
        paths_.memory(visit);
        for (VoiceBand* band : {&modelled_band_, &signal_band_, &prediction_band_}) band->memory(visit);
        signals_.memory(visit);
        predictions_.memory(visit);
        coupling_.memory(visit);
        unmodelled_.memory(visit);
        clocks_.memory(visit);
        for (Power* power : {&receiver_tail_, &predicted_tail_, &expected_}) visit(*power);
        explained_.memory(visit);
        visit(arrival_);
        visit(samples_);
        visit(sure_);
        visit(tripped_);
        visit(tripped_for_);
    }

private:
    void model(Pair sample) noexcept;
    void look_at_path() noexcept;
    Power leak(Power expected, Power room) const noexcept;
    void measure(Power microphone, Power residual, const Hop& hop) noexcept;

    Decimator decimator_;
    VoiceBand modelled_band_;    // wider than a voice channel: a voice's pitch stays in
    TwoPaths paths_;
    VoiceBand signal_band_;
    VoiceBand prediction_band_;
    Envelope signals_;           // of the microphone and the residual
    Envelope predictions_;       // of the predicted sound
    float tail_decay_;
    Power receiver_tail_ = 0;    // the receiver's envelope, decaying as the room does
    Power predicted_tail_ = 0;   // the predicted sound's, likewise
    Share coupling_;             // of the microphone in the receiver's envelope
    Share unmodelled_;           // of the residual in the predicted sound's
    Explained explained_;
    ClockWatch clocks_;
    std::int64_t samples_ = 0;
    double arrival_ = 0;
    bool sure_ = false;
    bool tripped_ = false;   // by the loudspeaker, and neither sure again nor long since
    long tripped_for_ = 0;   // hops with receiver sound since
    long trip_fades_;
    Power expected_ = 0;     // leak by the envelope method
};

}  // namespace tripline::dsp::echo
