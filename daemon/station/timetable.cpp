#include "daemon/station/timetable.h"

#include <algorithm>

namespace tripline::station {

Timetable::Timetable(const SequenceSettings& sequence, Duration loudspeaker_fade, Hertz rate) {
    const auto set = [&](State state, Duration time) {
        times_[static_cast<std::size_t>(state)] = to_frames(time, rate);
    };
    set(State::muting, std::max(sequence.mute.lead, loudspeaker_fade));
    set(State::antenna_to_transmit, sequence.antenna.lead);
    set(State::settling, sequence.settle);
    set(State::unkeying, sequence.ptt.lag);
    set(State::antenna_to_receive, sequence.antenna.lag);
    set(State::unmuting, sequence.mute.lag);
}

Duration time_to_air(const SequenceSettings& sequence, Duration loudspeaker_fade) {
    return std::max(sequence.mute.lead, loudspeaker_fade) + sequence.antenna.lead +
           sequence.settle + sequence.ptt.lead;
}

Duration advised_look_ahead(const Settings& settings) {
    constexpr Duration looks = 4ms;        // the detector looks every hop, and at pitch every few
    constexpr Duration pitch_shows = 12ms;  // of a sound that begins loud, through the filters
    const dsp::DetectorSettings& detector = settings.detector;
    const Duration lasting = detector.gate.qualify + detector.envelope.attack;
    const Duration in_a_restless_room = pitch_shows + detector.evidence.onset.pitched_wary;
    return std::max(lasting, in_a_restless_room) + looks +
           time_to_air(settings.sequence, settings.loudspeaker_fade);
}

}  // namespace tripline::station
