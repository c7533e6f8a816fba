// The ear of the station: two channels of samples in, one verdict per hop out.
#pragma once

#include "dsp/detector_settings.h"
#include "dsp/heard.h"
#include "dsp/units.h"

namespace tripline::dsp {

/// Composes the chain: conditioning of both inputs, envelopes, leak prediction,
/// noise floor, gate, hold and blanking. Decisions fall at hops of a fixed number
/// of frames counted from the start of the stream, so the size of the caller's
/// blocks cannot change them. No heap, lock, clock or I/O after construction.
class Detector {
public:
    /// Any rate from 8 to 192 kHz. Throws std::invalid_argument outside it.
    Detector(const DetectorSettings& settings, Hertz rate);

    /// Frames in a hop, about 0.5 ms.
    Frames hop() const noexcept;

    /// Takes one frame. True when it ends a hop: heard() is then new.
    bool push(float microphone, float receiver) noexcept;

    const Heard& heard() const noexcept;

    /// The station's relays have just moved: no opening for the set time from now.
    void relays_moved() noexcept;
    /// The receiver has just been muted or unmuted by the station.
    void receiver_muted(bool muted) noexcept;

    /// Back to the state after construction; the frame count goes on.
    void reset() noexcept;
};

}  // namespace tripline::dsp
