#include "daemon/setup/advice.h"

#include "daemon/text/print.h"

#include <algorithm>
#include <cmath>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;

// An over begins, and its syllables end, this far under its active level: of the corpus of
// recorded speech in tests/scene, nine in ten beginnings.
constexpr double beginnings_under_voice_db = 15;
constexpr double peaks_over_voice_db = 8;  // of the envelope in the voice band, over the active level there
constexpr double room_varies_db = 6;     // around its mean, before it crosses a threshold
constexpr double soft_under_voice_db = 6;
constexpr double leak_peaks_db = 6;      // of the leak's envelope over its mean ratio, with a room's echo
constexpr double envelope_needs_db = 6;  // voice over leak, measured: see the main job's figures
constexpr double echo_needs_db = 0;      // with an echo model: see its figures
constexpr Duration delay_slack = 2ms;

double limited(double value, double least, double most) { return std::clamp(std::round(value), least, most); }

Dbfs soft_of(const Survey& survey) {
    return survey.soft_in_band.value_or(Dbfs{survey.voice_in_band.value - soft_under_voice_db});
}

/// Without a minus before zero.
double in_tenths(double value) { return std::round(value * 10) / 10 + 0.0; }

/// Half way between the noise and a soft voice's beginnings.
Dbfs threshold_of(const Survey& survey) {
    const double noise = survey.room.value + room_varies_db;
    const double speech = soft_of(survey).value - beginnings_under_voice_db;
    return {limited((noise + speech) / 2, -90, -3)};
}

/// `one_clock`: of both inputs; the echo method needs it.
void take_anti_trip(const Survey& survey, bool one_clock, dsp::LeakSettings& leak) {
    if (!leak_heard(survey)) return;
    leak.enabled = true;
    leak.coupling = Decibels{limited(survey.coupling.value + leak_peaks_db, -60, 30)};
    leak.delay = survey.delay ? std::max(Duration::zero(), std::chrono::floor<std::chrono::milliseconds>(*survey.delay) - delay_slack)
                              : Duration::zero();
    const double over_leak = survey.voice_in_band.value - survey.leak.value;
    leak.method = one_clock && over_leak < envelope_needs_db ? dsp::AntiTrip::echo : dsp::AntiTrip::envelope;
}

std::vector<Distance> distances_of(const Survey& survey, const dsp::DetectorSettings& detector) {
    const double soft = soft_of(survey).value;
    const bool echo = detector.leak.method == dsp::AntiTrip::echo;
    std::vector<Distance> distances{
        {"soft voice over room", soft - survey.room.value, beginnings_under_voice_db,
         "The room is too loud for a soft voice: go nearer to the microphone, speak up, or make the room quieter."}};
    if (leak_heard(survey)) {
        distances.push_back({"voice over receiver's leak", survey.voice_in_band.value - survey.leak.value,
                             echo ? echo_needs_db : envelope_needs_db,
                             "The microphone hears the loudspeaker too well: turn it down or away, go nearer to the "
                             "microphone, or use headphones."});
    }
    distances.push_back({"soft voice over threshold", soft - detector.gate.open.value, beginnings_under_voice_db - 3,
                         "The threshold cannot be under a soft voice's beginnings and over the noise: speak up, go "
                         "nearer to the microphone, or make the room quieter."});
    return distances;
}

}  // namespace

bool leak_heard(const Survey& survey) { return survey.leak.value > survey.room.value - 10; }

bool Advice::good() const { return std::ranges::all_of(distances, &Distance::enough); }

Advice advise(const Survey& survey, const config::Settings& base) {
    Advice advice{base, {}};
    auto& detector = advice.settings.station.detector;
    detector.gate.open = threshold_of(survey);
    detector.evidence.clutter.voice_peak = {limited(survey.voice_in_band.value + peaks_over_voice_db, -60, 0)};
    take_anti_trip(survey, base.audio.monitor_device.empty(), detector.leak);
    advice.distances = distances_of(survey, detector);
    return advice;
}

std::string in_words(const Advice& advice) {
    std::string text;
    for (const Distance& d : advice.distances) {
        text += print("  %-28s %6.1f dB, at least %4.1f dB: %s by %.1f dB\n", d.name, d.found_db, d.needed_db,
                      d.enough() ? "enough" : "TOO SMALL", std::abs(d.margin_db()));
    }
    for (const Distance& d : advice.distances) {
        if (!d.enough()) text += d.cure + '\n';
    }
    return text;
}

std::string in_words(const Survey& survey) {
    std::string text = print("  room                         %6.1f dBFS\n", survey.room.value);
    const bool receiver = survey.receiver > Dbfs{-200};
    text += receiver ? print("  receiver                     %6.1f dBFS\n", survey.receiver.value) : "  receiver                     none\n";
    if (leak_heard(survey)) {
        text += print("  receiver at the microphone   %6.1f dBFS, coupling %.1f dB\n", survey.leak.value, in_tenths(survey.coupling.value));
    } else if (receiver) {
        text += "  receiver at the microphone   not heard over the room\n";
    }
    if (survey.delay) text += print("  its delay                    %6.1f ms\n", replay::to_ms(*survey.delay));
    text += print("  voice                        %6.1f dBFS (ITU-T P.56), %.1f dBFS in the voice band\n", survey.voice.value,
                  survey.voice_in_band.value);
    if (survey.soft_in_band) text += print("  soft voice                   %6.1f dBFS in the voice band\n", survey.soft_in_band->value);
    return text;
}

std::string beside_tune(const Survey& survey) {
    if (!leak_heard(survey)) return {};
    return "Where tripline tune advises another anti_trip.coupling_db, trust tune's if its map shows an edge on both sides of it, in\n"
           "recordings with the loudspeaker as loud as it gets; else this one.\n";
}

std::string short_take_note(const Stretches& stretches) {
    constexpr Duration long_enough = std::chrono::milliseconds{9800};   // a take of 10 s may end a block early
    if (!stretches.receiver || stretches.receiver->length() >= long_enough) return {};
    return "The receiver's take is under 10 s, too short to tell a voice in it that is less than 10 dB over the receiver's leak: if\n"
           "anybody spoke in it, the coupling is too high; take it again.\n";
}

}  // namespace tripline::setup
