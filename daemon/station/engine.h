// From samples to lines: the detector, the station logic and the audio path in one
// object, the same for live sound and for recordings. Pure: no I/O, clock, thread,
// log, or heap after construction.
#pragma once

#include "daemon/station/audio_path.h"
#include "daemon/station/event.h"
#include "daemon/station/logic.h"
#include "daemon/station/settings.h"
#include "dsp/detector.h"

#include <span>

namespace tripline::station {

/// One block of audio. All spans that are not empty have the same length; an input may
/// be processed in place.
struct Block {
    std::span<const float> microphone{};  ///< full scale is +-1
    std::span<const float> receiver{};    ///< empty: none connected, taken as silence
    std::span<float> transmitter{};       ///< empty: no audio path to the transmitter
    std::span<float> loudspeaker{};       ///< empty: no audio path to the loudspeaker
};

/// Used by one thread at a time: whoever calls process(), and between blocks nobody else.
class Engine {
public:
    /// Throws std::invalid_argument for settings or a rate out of range.
    Engine(const Settings& settings, Hertz rate);

    /// Any block size gives bit-equal events and outputs. Callback-safe.
    void process(const Block& block, EventSink& sink) noexcept;

    /// A hop whose frames another engine has taken, as its detector heard them; no audio path.
    /// The caller holds dsp::DenormalsOff. See dsp::Detector::judge_heard().
    void judge_heard(const dsp::Sounds& sounds, EventSink& sink) noexcept;

    /// Counts frames from here on; what memory() is then given back begins here. Not on the way.
    void begin_at(Frames now) noexcept {
        now_ = now;
        logic_.begin_at(now);
    }
    /// Shows a visitor all that decisions and events of the next hops rest on besides the
    /// settings and now(), see dsp::Detector::memory_of_sounds(). Without the audio path.
    template <typename Visit> void memory(Visit& visit) {
        detector_.memory_of_sounds(visit);
        memory_of_judgement(visit);
    }
    /// The same without what follows from the frames alone.
    template <typename Visit> void memory_of_judgement(Visit& visit) {
        detector_.memory_of_judgement(visit);
        logic_.memory(visit);
        lines_ = logic_.lines();
    }

    /// Takes effect at the next hop; a safe is never lost, whatever mode follows it in the
    /// same block. Mode keyed is obeyed or refused when commanded: it never keys later by
    /// itself, and after anything has taken it off the air it must be commanded again.
    /// Callback-safe; call between blocks only.
    void set_mode(Mode mode) noexcept { logic_.set_mode(mode); }
    /// While a fault stands nothing keys; a keyed station goes back at once.
    /// Callback-safe; call between blocks only.
    void set_fault(bool standing) noexcept { logic_.set_fault(standing); }
    /// While new settings wait nothing keys; a keyed station goes back. Once at_rest(), another
    /// engine may take over. Callback-safe; call between blocks only.
    void set_reload(bool waiting) noexcept { logic_.set_reload(waiting); }
    /// Goes on with the mode, lock-out, fault and frame count of an engine that this one
    /// replaces, from rest. A forced key has to be commanded again. Callback-safe; call between blocks only.
    void take_over(const Engine& before) noexcept;

    /// How the sound of an engine comes to the one that replaces it.
    enum class Sound : std::uint8_t {
        anew,     ///< the devices were opened again: the delay between them may be another
        goes_on,  ///< as before, so that the echo model holds
    };
    /// Knows what the detector of an engine of the same rate has learnt. Not on the way: it allocates.
    void learn_from(Engine& before, Sound sound = Sound::anew);

    State state() const noexcept { return logic_.state(); }
    Lock lock() const noexcept { return logic_.lock(); }
    Mode mode() const noexcept { return logic_.mode(); }
    /// The lines wanted after the last block. Several steps may have been taken within one
    /// block: whoever drives the wires keeps order and lead times by itself (the guard does).
    Lines lines() const noexcept { return logic_.lines(); }
    Clocks clocks() const noexcept { return logic_.clocks(); }
    bool at_rest() const noexcept { return lines() == Lines{}; }
    Frames now() const noexcept { return now_; }
    const dsp::Heard& heard() const noexcept { return detector_.heard(); }
    const dsp::Detector& detector() const noexcept { return detector_; }

private:
    void carry(const Block& block, std::size_t from, std::size_t to) noexcept;
    void end_hop(EventSink& sink) noexcept;
    void move_lines() noexcept;

    dsp::Detector detector_;
    Logic logic_;
    TransmitPath transmit_path_;
    LoudspeakerPath loudspeaker_path_;
    Frames now_;
    Lines lines_;
    bool finite_ = true;  ///< all samples of the hop so far
};

}  // namespace tripline::station
