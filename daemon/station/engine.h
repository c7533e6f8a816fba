// From samples to lines: the detector, the station logic and the audio path in one
// object, the same for live sound and for recordings. Pure: no I/O, clock, thread,
// log, or heap after construction.
#pragma once

#include "daemon/station/event.h"
#include "daemon/station/settings.h"
#include "dsp/detector.h"

#include <span>

namespace tripline::station {

/// One block of audio. All spans that are not empty have the same length.
struct Block {
    std::span<const float> microphone;   ///< full scale is +-1
    std::span<const float> receiver;     ///< empty: none connected, taken as silence
    std::span<float> transmitter;        ///< empty: no audio path to the transmitter
    std::span<float> loudspeaker;        ///< empty: no audio path to the loudspeaker
};

class Engine {
public:
    /// Throws std::invalid_argument for settings or a rate out of range.
    Engine(const Settings& settings, Hertz rate);

    /// Any block size gives bit-equal events. Callback-safe.
    void process(const Block& block, EventSink& sink) noexcept;

    /// Takes effect at the next hop. Callback-safe; call between blocks only.
    void set_mode(Mode mode) noexcept;
    /// While a fault stands nothing keys; a keyed station goes back at once.
    void set_fault(bool standing) noexcept;

    State state() const noexcept;
    Mode mode() const noexcept;
    Lines lines() const noexcept;
    Frames now() const noexcept;
    const dsp::Heard& heard() const noexcept;
};

}  // namespace tripline::station
