// Keys of the station logic and of the audio path.
#include "config/section.h"

namespace tripline::config {
namespace {

void add_logic(Catalogue& catalogue) {
    Section station(catalogue, "station", Touches::engine, "How the station starts.");
    station.choice(
        "start_mode", [](auto& s) -> auto& { return s.station.start_mode; },
        {{"armed", station::Mode::armed}, {"safe", station::Mode::safe}}, "Mode at start.",
        "armed: voice keys. safe: nothing keys until the operator says so.");

    Section limits(catalogue, "limits", Touches::engine,
                   "What ends an over that doesn't end itself.");
    limits.number(
        "longest_over_s", {1, 600}, [](auto& s) -> auto& { return s.station.limits.longest_over; },
        "The station unkeys after this long and locks out.",
        "The default is the 3 minutes of 47 CFR 97.213(b); local rules govern.");
    limits.number(
        "quiet_to_clear_s", {0, 60},
        [](auto& s) -> auto& { return s.station.limits.quiet_to_clear; },
        "The lock-out is lifted when the microphone was quiet this long.");
}

void add_audio_path(Catalogue& catalogue) {
    Section transmit(catalogue, "transmit_audio", Touches::engine,
                     "Microphone to transmitter; used when audio.transmitter_channel is set.");
    transmit.number(
        "look_ahead_ms", {0, 500},
        [](auto& s) -> auto& { return s.station.transmit_audio.look_ahead; },
        "Delay of the transmitted audio, so that it comes after the key and the relays.",
        "0 is off. With enough of it a clear beginning is not cut, a soft one less; the operator must not hear it.");
    transmit.number(
        "gain_db", {-60, 60}, [](auto& s) -> auto& { return s.station.transmit_audio.gain; },
        "Gain from microphone to transmitter.");
    transmit.number(
        "limit_dbfs", {-60, 0}, [](auto& s) -> auto& { return s.station.transmit_audio.limit; },
        "No sample leaves above this level.");

    Section loudspeaker(catalogue, "loudspeaker", Touches::engine,
                        "Receiver to loudspeaker; used when audio.loudspeaker_channel is set.");
    loudspeaker.number(
        "fade_ms", {0, 100}, [](auto& s) -> auto& { return s.station.loudspeaker_fade; },
        "Length of the fades when the loudspeaker is muted and unmuted.",
        "0 switches at once, with a click.");
}

}  // namespace

void add_station_keys(Catalogue& catalogue) {
    add_logic(catalogue);
    add_audio_path(catalogue);
}

}  // namespace tripline::config
