// Rules of the station logic and of the audio path.
#include "config/findings.h"
#include "daemon/station/timetable.h"

namespace tripline::config {
namespace {

using std::chrono_literals::operator""s;

void check_limits(const station::Settings& station, Findings& found) {
    if (station.limits.longest_over > 180s) {
        found.note({"limits.longest_over_s"},
                   "longer than the 3 minutes of 47 CFR 97.213(b); local rules govern");
    }
    if (station.limits.longest_over <= station.detector.hold) {
        found.error({"limits.longest_over_s", "gate.hold_ms"}, "not longer than the hang time",
                    "more than gate.hold_ms (" + ms_text(station.detector.hold) + ")");
    }
}

void check_look_ahead(const Settings& settings, Findings& found) {
    const auto& station = settings.station;
    const auto look_ahead = station.transmit_audio.look_ahead;
    const std::string key = "transmit_audio.look_ahead_ms";
    if (look_ahead == Duration::zero()) return;
    if (look_ahead > station.detector.hold) {
        found.error({key, "gate.hold_ms"}, "the end of each over would be cut",
                    "at most gate.hold_ms (" + ms_text(station.detector.hold) + ")");
    }
    if (settings.audio.transmitter_channel == 0) {
        found.note({key, "audio.transmitter_channel"},
                   "delays nothing: audio.transmitter_channel is 0");
        return;
    }
    const auto advised = station::advised_look_ahead(station);
    if (look_ahead < advised) {
        found.note({key}, "shorter than the " + ms_text(advised) +
                              " from a clear beginning to transmitter ready: the first syllable is cut");
    }
}

}  // namespace

void check_station(const Settings& settings, Findings& found) {
    check_limits(settings.station, found);
    check_look_ahead(settings, found);
}

}  // namespace tripline::config
