#include "daemon/explain/silence.h"

#include "daemon/explain/barrier.h"
#include "daemon/explain/levels.h"
#include "daemon/replay/decision.h"
#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <tuple>
#include <utility>

namespace tripline::explain {
namespace {

using replay::to_seconds;
using std::chrono_literals::operator""ms;

constexpr Duration near = 500ms;
constexpr Duration word = 50ms;
constexpr float nothing_left_db = -100;

/// Peaks stood over the threshold; what decides is their mean, less what the loudspeaker may add.
std::string of_doubtful(const dsp::Measures& measures) {
    return leak_takes_most(measures)
               ? "  The receiver could explain what the microphone heard: what was left without it may still be the loudspeaker's.\n"
               : "  It was too quiet: its peaks reached the threshold of the gate, its mean did not.\n";
}

std::string of_quiet(const dsp::Measures& measures, const dsp::DetectorSettings& settings) {
    if (margin_db(measures) >= 0) return of_doubtful(measures);
    if (leak_takes_all(measures)) return "  It was under the threshold of the gate, and no louder than what the loudspeaker may leak.\n";
    if (leak_takes_most(measures)) return "  It was under the threshold of the gate, and most of it is what the loudspeaker may leak.\n";
    if (!held_up_by_others(measures, settings.gate)) return "  It was too quiet: under the threshold of the gate.\n";
    const std::string text = "  It was under the threshold of the gate, which other sounds of the room, heard before or expected at the start, held up";
    return text + (by_envelope(settings.leak) ? ";\n  the loudspeaker may have been one of them.\n" : ".\n");
}

std::string of_cause(const dsp::Heard& heard, const dsp::DetectorSettings& settings) {
    using dsp::Cause;
    const auto in_ms = [](Duration time) { return replay::to_ms(time); };
    switch (heard.cause) {
        case Cause::quiet: return of_quiet(heard.measures, settings);
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

const Hop* nearest(const std::vector<const Hop*>& hops) {
    const auto found = std::ranges::max_element(hops, {}, [](const Hop* hop) { return nearness(*hop); });
    return found == hops.end() ? nullptr : *found;
}

/// What kept the station off the air at a hop: the lock-out and the mode stand before what was heard, and under the
/// threshold or over it, what is the loudspeaker's is masked.
using Reason = std::tuple<bool, bool, dsp::Cause>;

dsp::Cause cause_of(const Hop& hop) {
    const bool masked = hop.heard.cause == dsp::Cause::quiet && leak_takes_most(hop.heard.measures);
    return masked ? dsp::Cause::masked : hop.heard.cause;
}

Reason reason_of(const Hop& hop) {
    const bool safe = hop.mode == station::Mode::safe;
    const bool locked = hop.state == station::State::locked_out;
    if (safe || locked) return {safe, locked, dsp::Cause::quiet};
    return {safe, locked, cause_of(hop)};
}

std::vector<const Hop*> hops_in(const Account& account, const replay::Span& span) {
    std::vector<const Hop*> found;
    for (const Hop& hop : account.hops)
        if (hop.at >= span.begin && hop.at < span.end) found.push_back(&hop);
    return found;
}

/// Only what stands out of the noise of the room, if there is enough of it to be a word.
std::vector<const Hop*> sounding(std::vector<const Hop*> all, Duration length, const dsp::GateSettings& gate) {
    std::vector<const Hop*> loud;
    std::ranges::copy_if(all, std::back_inserter(loud), [&](const Hop* hop) {
        const dsp::Measures& m = hop->heard.measures;
        return to_dbfs(m.microphone).value > to_dbfs(m.floor).value + gate.above_floor.value;
    });
    const bool enough = length * static_cast<double>(loud.size()) >= word * static_cast<double>(all.size());
    return enough && !loud.empty() ? loud : all;
}

/// The hop at a time, if it stood over the threshold; else null.
const Hop* asked_for(const std::vector<const Hop*>& hops, Duration at) {
    const auto found = std::ranges::min_element(hops, {}, [&](const Hop* hop) { return std::chrono::abs(hop->at - at); });
    if (found == hops.end()) return nullptr;
    const dsp::Measures& measures = (*found)->heard.measures;
    return replay::has_margin(measures) && margin_db(measures) >= 0 ? *found : nullptr;
}

/// Where another hop came nearer to keying than the blamed one.
std::string nearer_in_words(const Hop& nearest) {
    const std::string cause(station::name(nearest.heard.cause));
    return print("  Nearer to keying, at %.3f s: %s", to_seconds(nearest.at), cause.c_str()) +
           (replay::has_margin(nearest.heard.measures)
                ? print(", %.1f dB %s the threshold.\n", std::abs(static_cast<double>(margin_db(nearest.heard.measures))),
                        margin_db(nearest.heard.measures) >= 0 ? "over" : "under")
                : std::string(".\n"));
}

/// "quiet 612 ms, masked 388 ms"
std::string shares(const Account& account, const replay::Span& within) {
    std::map<dsp::Cause, int> hops;
    int all = 0;
    for (const Hop* hop : hops_in(account, within)) {
        ++hops[cause_of(*hop)];
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

replay::Span surroundings(const Account& account, const Moment& moment) {
    const Duration at = moment.at;
    replay::Span around{std::max(Duration::zero(), at - near), std::min(account.length, at + near)};
    if (moment.is_stretch()) around = {at, std::min(account.length, at + moment.within)};
    for (const replay::Spell& spell : account.spells) {
        if (spell.released < at) around.begin = std::max(around.begin, spell.released);
        if (spell.decided > at) around.end = std::min(around.end, spell.decided);
    }
    return around;
}

const Hop* nearest_to_keying(const Account& account, const replay::Span& within) { return nearest(hops_in(account, within)); }

const Hop* blamed(const Account& account, const replay::Span& within, const Moment& moment, const dsp::GateSettings& gate) {
    const auto all = hops_in(account, within);
    std::map<Reason, std::vector<const Hop*>> by_reason;
    if (const Hop* asked = moment.is_stretch() ? nullptr : asked_for(all, moment.at)) {
        std::ranges::copy_if(all, std::back_inserter(by_reason[reason_of(*asked)]), [&](const Hop* hop) { return reason_of(*hop) == reason_of(*asked); });
    } else {
        for (const Hop* hop : sounding(all, within.length(), gate)) by_reason[reason_of(*hop)].push_back(hop);
    }
    const auto longest = std::ranges::max_element(by_reason, {}, [](const auto& one) { return one.second.size(); });
    return longest == by_reason.end() ? nullptr : nearest(longest->second);
}

std::string silence_in_words(const Account& account, const replay::Span& within, const Moment& moment, const station::Settings& settings) {
    const Hop* hop = blamed(account, within, moment, settings.detector.gate);
    if (!hop) return "  The recording is too short to tell.\n";
    const Hop* nearest = nearest_to_keying(account, within);
    const bool other = reason_of(*nearest) != reason_of(*hop);
    const std::string barrier = barrier_in_words(*hop, account, settings);
    const bool by_the_way = !barrier.empty() && hop->heard.cause == dsp::Cause::blanked;
    return barrier + (by_the_way ? "" : of_cause(hop->heard, settings.detector)) +
           print("  Nearest to keying%s, at %.3f s%s:\n", other ? " for that reason" : "", to_seconds(hop->at), account.clock(hop->at).c_str()) +
           levels_in_words(hop->heard.measures, settings.detector.gate) + (other ? nearer_in_words(*nearest) : "") +
           print("  From %.3f s to %.3f s: ", to_seconds(within.begin), to_seconds(within.end)) + shares(account, within) + ".\n";
}

std::vector<Knob> knobs_to_key(const Hop& hop, const config::Settings& settings) {
    using dsp::Cause;
    const dsp::Measures& measures = hop.heard.measures;
    const dsp::DetectorSettings& detector = settings.station.detector;
    const bool all_leak = leak_takes_all(measures);
    const bool held_up = held_up_by_others(measures, detector.gate);
    std::vector<Knob> knobs;
    if (!all_leak) {
        knobs.push_back({"gate.open_dbfs", false});
        if (detector.gate.threshold == dsp::Threshold::floating) knobs.push_back({"gate.above_floor_db", false});
        if (held_up) knobs.push_back({"gate.voice_peak_dbfs", false});
    }
    const bool leak = hop.heard.cause == Cause::masked || leak_takes_most(measures);
    if (leak) {
        knobs.push_back({"anti_trip.coupling_db", false});
        if (detector.leak.learn) knobs.push_back({"anti_trip.margin_db", false});
        knobs.push_back({"anti_trip.decay_ms", false});
    }
    if ((leak || held_up) && may_use_echo(settings)) knobs.push_back(echo_method());
    if (hop.heard.cause == Cause::qualifying) knobs.push_back({"gate.qualify_ms", false});
    if (hop.heard.cause == Cause::blanked) {
        knobs.push_back({"blanking.relay_ms", false});
        knobs.push_back({"blanking.unmute_ms", false});
    }
    return knobs;
}

}  // namespace tripline::explain
