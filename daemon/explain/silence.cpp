#include "daemon/explain/silence.h"

#include "daemon/explain/barrier.h"
#include "daemon/explain/levels.h"
#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <algorithm>
#include <map>
#include <utility>

namespace tripline::explain {
namespace {

using replay::to_seconds;
using std::chrono_literals::operator""ms;

constexpr Duration near = 500ms;
constexpr float nothing_left_db = -100;

std::string of_cause(const dsp::Heard& heard, const dsp::DetectorSettings& settings) {
    using dsp::Cause;
    const auto in_ms = [](Duration time) { return replay::to_ms(time); };
    switch (heard.cause) {
        case Cause::quiet:
            return leak_takes_all(heard.measures)
                       ? "  It was under the threshold of the gate, and no louder than what the loudspeaker may leak.\n"
                       : "  It was too quiet: under the threshold of the gate.\n";
        case Cause::masked:
            return leak_takes_all(heard.measures)
                       ? "  The receiver could explain what the microphone heard: it was no louder than what the\n"
                         "  loudspeaker may leak.\n"
                       : "  The receiver could explain what the microphone heard: without it, too little was left.\n";
        case Cause::qualifying:
            return print("  It was loud enough, but too short, or without the marks of a voice\n"
                         "  (gate.qualify_ms = %g).\n", in_ms(settings.gate.qualify));
        case Cause::blanked:
            return print("  The station's own relays had just moved, or the receiver had just been unmuted\n"
                         "  (blanking.relay_ms = %g, blanking.unmute_ms = %g).\n",
                         in_ms(settings.blanking.relay), in_ms(settings.blanking.unmute));
        case Cause::withheld:
            return print("  After the last %d times that the receiver was unmuted, a sound keyed that was over as soon as\n"
                         "  it was mute again: what the loudspeaker plays, most likely. So nothing is believed so\n"
                         "  soon after an unmute for now. See anti_trip.margin_db and coupling_db.\n", heard.self_keyed);
        case Cause::not_speech: return "  The same sound had keyed before and turned out not to be speech.\n";
        case Cause::steady: return "  The same sound had keyed before and was a steady tone or hum.\n";
        case Cause::not_finite: return "  A sample was not a finite number.\n";
        case Cause::murmur:
        case Cause::voice: return "  A voice was heard, but the station could not key.\n";
    }
    return {};
}

/// By the margin; where nothing is left to have one, by the microphone's level.
std::pair<float, float> nearness(const Hop& hop) {
    const auto& measures = hop.heard.measures;
    return {std::max(margin_db(measures), nothing_left_db), measures.microphone};
}

/// "quiet 612 ms, masked 388 ms"
std::string shares(const Account& account, const replay::Span& within) {
    std::map<dsp::Cause, int> hops;
    int all = 0;
    for (const Hop& hop : account.hops) {
        if (hop.at < within.begin || hop.at >= within.end) continue;
        ++hops[hop.heard.cause];
        ++all;
    }
    std::string text;
    for (const auto& [cause, count] : hops) {
        const double share = replay::to_ms(within.length()) * count / all;
        text += print("%s%s %.0f ms", text.empty() ? "" : ", ", std::string(station::name(cause)).c_str(), share);
    }
    return text;
}

}  // namespace

replay::Span surroundings(const Account& account, Duration at) {
    replay::Span around{std::max(Duration::zero(), at - near), std::min(account.length, at + near)};
    for (const replay::Spell& spell : account.spells) {
        if (spell.released < at) around.begin = std::max(around.begin, spell.released);
        if (spell.decided > at) around.end = std::min(around.end, spell.decided);
    }
    return around;
}

const Hop* nearest_to_keying(const Account& account, const replay::Span& within) {
    const Hop* nearest = nullptr;
    for (const Hop& hop : account.hops) {
        if (hop.at < within.begin || hop.at >= within.end) continue;
        if (!nearest || nearness(hop) > nearness(*nearest)) nearest = &hop;
    }
    return nearest;
}

std::string silence_in_words(const Account& account, const replay::Span& within, const station::Settings& settings) {
    const Hop* nearest = nearest_to_keying(account, within);
    if (!nearest) return "  The recording is too short to tell.\n";
    return barrier_in_words(*nearest, settings) + of_cause(nearest->heard, settings.detector) +
           print("  Nearest to keying, at %.3f s:\n", to_seconds(nearest->at)) +
           levels_in_words(nearest->heard.measures, settings.detector.gate) +
           print("  From %.3f s to %.3f s: ", to_seconds(within.begin), to_seconds(within.end)) +
           shares(account, within) + ".\n";
}

std::vector<Knob> knobs_to_key(const Hop& nearest, const dsp::DetectorSettings& settings) {
    using dsp::Cause;
    const dsp::Measures& measures = nearest.heard.measures;
    const bool all_leak = leak_takes_all(measures);
    std::vector<Knob> knobs;
    if (!all_leak) {
        knobs.push_back({"gate.open_dbfs", false});
        if (settings.gate.threshold == dsp::Threshold::floating) knobs.push_back({"gate.above_floor_db", false});
        if (held_up_by_others(measures, settings.gate)) knobs.push_back({"gate.voice_peak_dbfs", false});
    }
    if (nearest.heard.cause == Cause::masked || all_leak) {
        knobs.push_back({"anti_trip.coupling_db", false});
        if (settings.leak.learn) knobs.push_back({"anti_trip.margin_db", false});
        knobs.push_back({"anti_trip.decay_ms", false});
    }
    if (nearest.heard.cause == Cause::qualifying) knobs.push_back({"gate.qualify_ms", false});
    if (nearest.heard.cause == Cause::blanked) {
        knobs.push_back({"blanking.relay_ms", false});
        knobs.push_back({"blanking.unmute_ms", false});
    }
    return knobs;
}

}  // namespace tripline::explain
