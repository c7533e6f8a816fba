// Rules of the detector.
#include "config/findings.h"

namespace tripline::config {
namespace {

using std::chrono_literals::operator""s;

void check_gate(const dsp::DetectorSettings& detector, Findings& found) {
    const auto& gate = detector.gate;
    if (gate.threshold == dsp::Threshold::floating && gate.hysteresis >= gate.above_floor) {
        found.error(
            {"gate.hysteresis_db", "gate.above_floor_db"},
            "the gate would close under the room noise, that is, never",
            "less than gate.above_floor_db (" + number_text(gate.above_floor.value) + " dB)");
    }
    if (gate.qualify >= detector.hold) {
        found.error({"gate.qualify_ms", "gate.hold_ms"}, "not shorter than the hang time",
                    "less than gate.hold_ms (" + ms_text(detector.hold) + ")");
    }
    if (detector.hold < 1s || detector.hold > 3s) {
        found.note({"gate.hold_ms"},
                   ms_text(detector.hold) + " is unusual; common practice is 1000 to 3000 ms");
    }
}

void check_band(const dsp::VoiceBandSettings& band, Hertz rate, Findings& found) {
    if (band.low >= band.high) {
        found.error({"voice_band.low_hz", "voice_band.high_hz"}, "the band is empty",
                    "less than voice_band.high_hz (" + number_text(band.high.value) + " Hz)");
    }
    const double most = 0.45 * rate.value;
    if (band.high.value > most) {
        found.error({"voice_band.high_hz", "audio.rate_hz"}, "too high for the sample rate",
                    "at most 0.45 times audio.rate_hz (" + number_text(most) + " Hz)");
    }
}

}  // namespace

void check_detector(const Settings& settings, Findings& found) {
    check_gate(settings.station.detector, found);
    check_band(settings.station.detector.band, settings.audio.rate, found);
}

}  // namespace tripline::config
