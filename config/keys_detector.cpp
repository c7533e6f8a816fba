// Keys of the detector: from sound to "the operator speaks".
#include "config/section.h"

namespace tripline::config {
namespace {

void add_gate(Catalogue& catalogue) {
    Section gate(catalogue, "gate", Touches::engine, "When the operator's voice counts as speech.");
    gate.choice(
        "threshold", [](auto& s) -> auto& { return s.station.detector.gate.threshold; },
        {{"floating", dsp::Threshold::floating}, {"fixed", dsp::Threshold::fixed}},
        "How the opening level is set.",
        "floating: above_floor_db over the tracked room noise, never under open_dbfs. "
        "fixed: at open_dbfs.");
    gate.number(
        "open_dbfs", {-90, -3}, [](auto& s) -> auto& { return s.station.detector.gate.open; },
        "Microphone level in the voice band that opens the gate.",
        "With a floating threshold, the lowest it goes. 0 dBFS is the rms of a full-scale sine.");
    gate.number(
        "above_floor_db", {1, 40},
        [](auto& s) -> auto& { return s.station.detector.gate.above_floor; },
        "Floating threshold: how far over the room noise the gate opens.");
    gate.number(
        "hysteresis_db", {0.5, 20},
        [](auto& s) -> auto& { return s.station.detector.gate.hysteresis; },
        "The gate closes this far under its opening level.",
        "Keeps a voice near the opening level from chattering.");
    gate.number(
        "voice_peak_dbfs", {-60, 0}, [](auto& s) -> auto& { return s.station.detector.evidence.clutter.voice_peak; },
        "The operator's peaks in the voice band, until the station has heard them; in a quiet room it expects less.",
        "Other sounds of the room lift the threshold up to 6 dB under it: a voice much softer than this can be "
        "held off after a loud noise. tripline setup measures it.");
    gate.number(
        "qualify_ms", {0, 200}, [](auto& s) -> auto& { return s.station.detector.gate.qualify; },
        "Sounds shorter than this are clicks and don't key.",
        "Every millisecond here is a millisecond of the first syllable, unless "
        "transmit_audio.look_ahead_ms makes it good.");
    gate.number(
        "hold_ms", {100, 10000}, [](auto& s) -> auto& { return s.station.detector.hold; },
        "Hang time: the station stays keyed this long after the last speech.",
        "1000 to 3000 ms is common practice: shorter drops the key between words.");
}

void add_anti_trip(Catalogue& catalogue) {
    Section trip(catalogue, "anti_trip", Touches::engine,
                 "Keeps the loudspeaker from keying the station.");
    trip.boolean(
        "enabled", [](auto& s) -> auto& { return s.station.detector.leak.enabled; },
        "Subtract from the microphone what the receiver is expected to add to it.",
        "Needs the receiver's audio on audio.receiver_channel.");
    trip.choice(
        "method", [](auto& s) -> auto& { return s.station.detector.leak.method; },
        {{"envelope", dsp::AntiTrip::envelope}, {"echo", dsp::AntiTrip::echo}},
        "How the receiver's sound is told from the operator's.",
        "envelope: its expected power is subtracted. echo: its way through the room is learnt and "
        "its sound subtracted, for a loudspeaker as loud as the voice; needs one clock for both inputs.");
    trip.number(
        "coupling_db", {-60, 30}, [](auto& s) -> auto& { return s.station.detector.leak.coupling; },
        "Level of the receiver's sound at the microphone less its level at the input; the most "
        "it can be when it is learnt.",
        "Too low: the loudspeaker keys. Too high: the operator can't break in.");
    trip.boolean(
        "learn", [](auto& s) -> auto& { return s.station.detector.leak.learn; },
        "Learn the coupling while only the receiver is heard.",
        "Takes a second of receiver sound; until then coupling_db holds, and it is never passed.");
    trip.number(
        "margin_db", {0, 20}, [](auto& s) -> auto& { return s.station.detector.leak.margin; },
        "What was learnt is raised by this.");
    trip.number(
        "delay_ms", {0, 500}, [](auto& s) -> auto& { return s.station.detector.leak.delay; },
        "Shortest time from the receiver input to the microphone input.",
        "Sound takes 3 ms a metre; a sound card's buffers may add more.");
    trip.number(
        "decay_ms", {1, 2000}, [](auto& s) -> auto& { return s.station.detector.leak.decay; },
        "Time in which the expected leak falls to 1/e of its power.",
        "Longer in a room with echo.");
    trip.boolean(
        "muted_on_air", [](auto& s) -> auto& { return s.station.detector.leak.muted_on_air; },
        "The loudspeaker is silent while the station transmits.",
        "Then nothing is subtracted on the air. Say false if the receiver stays audible.");
}

void add_fine_tuning(Catalogue& catalogue) {
    Section band(catalogue, "voice_band", Touches::engine,
                 "The band in which both inputs are measured.");
    band.number(
        "low_hz", {50, 1000}, [](auto& s) -> auto& { return s.station.detector.band.low; },
        "Lower edge. Under it lie hum and handling noise.");
    band.number(
        "high_hz", {1000, 8000}, [](auto& s) -> auto& { return s.station.detector.band.high; },
        "Upper edge.", "Must be under 0.45 times audio.rate_hz.");

    Section envelope(catalogue, "envelope", Touches::engine, "How fast the measured level moves.");
    envelope.number(
        "attack_ms", {0.1, 100},
        [](auto& s) -> auto& { return s.station.detector.envelope.attack; },
        "Rise: 1/e time constant of the power.");
    envelope.number(
        "release_ms", {1, 1000},
        [](auto& s) -> auto& { return s.station.detector.envelope.release; },
        "Fall: 1/e time constant of the power.");

    Section blanking(catalogue, "blanking", Touches::engine,
                     "When the microphone is ignored because the station itself makes a noise.");
    blanking.number(
        "relay_ms", {0, 1000}, [](auto& s) -> auto& { return s.station.detector.blanking.relay; },
        "After the station's own relays move.");
    blanking.number(
        "unmute_ms", {0, 2000}, [](auto& s) -> auto& { return s.station.detector.blanking.unmute; },
        "After the receiver is unmuted.");
}

}  // namespace

void add_detector_keys(Catalogue& catalogue) {
    add_gate(catalogue);
    add_anti_trip(catalogue);
    add_fine_tuning(catalogue);
}

}  // namespace tripline::config
