#include "daemon/explain/story.h"

#include "daemon/explain/barrier.h"
#include "daemon/explain/ending.h"
#include "daemon/explain/levels.h"
#include "daemon/explain/silence.h"
#include "daemon/text/print.h"

#include <algorithm>

namespace tripline::explain {
namespace {

using replay::Spell;
using replay::Span;
using replay::to_seconds;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

/// What the station itself had just done to the loudspeaker is the first suspect.
std::string unmute_in_words(const Spell& spell, const Account& account, const station::Settings& settings) {
    constexpr Duration soon = 2s;
    const auto since = account.since_unmute(spell.decided);
    if (!since || *since > soon || !settings.detector.leak.muted_on_air) return {};
    return print("  The receiver had come back on %.3f s before: was it the loudspeaker?\n"
                 "  It may play what the receiver input does not carry.\n", to_seconds(*since));
}

std::string beginning_in_words(const Spell& spell, const Account& account, const station::Settings& settings) {
    if (spell.from_before) return "Why it keyed: that lies before the recording's beginning.\n";
    const std::string head = print("Why it keyed, decided at %.3f s%s:\n", to_seconds(spell.decided), account.clock(spell.decided).c_str());
    if (spell.began_by == station::Reason::forced) return head + "  The operator forced it: mode keyed.\n";
    const std::string levels =
        unmute_in_words(spell, account, settings) + levels_in_words(spell.heard.measures, settings.detector.gate);
    if (spell.heard.cause == dsp::Cause::murmur)
        return head + levels + "  Under 900 Hz, clear of room and loudspeaker there, it repeated at a voice's pitch.\n";
    return head + levels +
           print("  It had shown a voice's pitch, or had swelled or lasted as a voice does for at least\n"
                 "  gate.qualify_ms = %g.\n", replay::to_ms(settings.detector.gate.qualify));
}

std::string transmission_in_words(const Spell& spell, const Account& account, const station::Settings& settings) {
    return beginning_in_words(spell, account, settings) + print("Why it let go, at %.3f s%s:\n", to_seconds(spell.released), account.clock(spell.released).c_str()) +
           ending_in_words(spell, account, settings);
}

bool keyed_in(const std::vector<Spell>& spells, const Span& span) {
    return std::ranges::any_of(spells,
                               [&](const Spell& s) { return s.keyed < span.end && s.released > span.begin; });
}

/// Where a setting would have to leave it off the air: while there was speech. What was let go sooner than the hang
/// time, or spoke hardly longer than it took to key, must not come a moment later either.
Span to_prevent(const Spell& spell, Duration hold) {
    constexpr Duration moment = 500ms;
    return {spell.decided, std::max(std::min(spell.keyed + moment, spell.released), spell.released - hold)};
}

/// Where a missing transmission would have to begin: the next one, a moment sooner, is none.
Span to_begin(const Account& account, const Span& around, Duration at) {
    constexpr Duration moment = 100ms;
    const bool next = std::ranges::find(account.spells, around.end, &Spell::decided) != account.spells.end();
    return {around.begin, next ? std::max(at, around.end - moment) : around.end};
}

/// A transmission that a setting only ends a little later is none that was missing.
bool keyed_for(const std::vector<Spell>& spells, const Span& span, Duration at) {
    return std::ranges::any_of(spells, [&](const Spell& s) {
        return (s.decided >= span.begin && s.decided < span.end) || (s.keyed <= at && at < s.released);
    });
}

std::vector<Knob> knobs_to_prevent(const Spell& spell, const config::Settings& all) {
    if (spell.from_before || spell.began_by == station::Reason::forced) return {};
    const station::Settings& settings = all.station;
    std::vector<Knob> knobs{{"gate.open_dbfs", true}, {"gate.qualify_ms", true}};
    if (settings.detector.gate.threshold == dsp::Threshold::floating) knobs.push_back({"gate.above_floor_db", true});
    const dsp::LeakSettings& leak = settings.detector.leak;
    if (leak.enabled) knobs.push_back({"anti_trip.coupling_db", true});
    if (leak.enabled && leak.learn) knobs.push_back({"anti_trip.margin_db", true});
    if (may_use_echo(all)) knobs.push_back(echo_method());
    return knobs;
}

/// The transmission that ends a stretch in which nothing keyed.
std::string next_in_words(const Account& account, Duration at) {
    const auto next = std::ranges::find(account.spells, at, &Spell::decided);
    if (next == account.spells.end()) return {};
    return print("  Then it keyed: decided at %.3f s, on the air from %.3f s.\n", to_seconds(next->decided), to_seconds(next->keyed));
}

std::string list(const char* title, const std::vector<Remedy>& found, std::size_t transmissions) {
    if (found.empty()) return {};
    std::string text = std::string(title) + " Each alone, seen by replay:\n";
    for (const Remedy& remedy : found) text += in_words(remedy, transmissions);
    return text;
}

std::size_t begun_by(const Account& account, Duration until) {
    return static_cast<std::size_t>(
        std::ranges::count_if(account.spells, [&](const Spell& s) { return s.keyed <= until; }));
}

}  // namespace

std::string all_in_words(const Account& account, const station::Settings& settings) {
    std::string text = print("%zu transmission%s in %.1f s\n", account.spells.size(),
                             account.spells.size() == 1 ? "" : "s", to_seconds(account.length));
    for (const Spell& spell : account.spells) {
        text += "\nKeyed " + keyed_in_words(spell) + '\n' + transmission_in_words(spell, account, settings);
    }
    return text;
}

std::string moment_in_words(const Account& account, const Moment& moment, const Subject& subject, Cures cures) {
    const Duration at = moment.at;
    const station::Settings& settings = subject.settings.station;
    if (const Spell* spell = account.spell_at(at)) {
        const Span spoken = to_prevent(*spell, settings.detector.hold);
        const auto wish = [&](const std::vector<Spell>& spells) { return !keyed_in(spells, spoken); };
        const std::string told = print("At %.3f s%s: keyed, ", to_seconds(at), account.clock(at).c_str()) + keyed_in_words(*spell) + '\n' +
                                 transmission_in_words(*spell, account, settings);
        if (cures == Cures::none) return told;
        return told +
               list("What would have kept it off the air?",
                    remedies(subject, knobs_to_prevent(*spell, subject.settings), spell->released, wish),
                    begun_by(account, spell->released));
    }
    const Span around = surroundings(account, moment);
    const Span missing = to_begin(account, around, at);
    const auto wish = [&](const std::vector<Spell>& spells) { return keyed_for(spells, missing, at); };
    const std::string when = moment.is_stretch() ? print("From %.3f s%s to %.3f s%s", to_seconds(around.begin), account.clock(around.begin).c_str(), to_seconds(around.end), account.clock(around.end).c_str())
                                                 : print("At %.3f s%s", to_seconds(at), account.clock(at).c_str());
    std::string text = when + ": not keyed\nWhy it did not key:\n" + silence_in_words(account, around, moment, settings);
    const Hop* hop = blamed(account, around, moment, settings.detector.gate);
    if (!hop) return text;
    text += next_in_words(account, around.end);
    const std::string instead = cure_in_words(*hop, account, settings);
    if (!instead.empty()) return text + "What would help?\n" + instead;
    if (cures == Cures::none) return text;
    const auto found = remedies(subject, knobs_to_key(*hop, subject.settings), around.end, wish);
    text += list("What would have keyed it?", found, begun_by(account, around.end));
    if (!leak_takes_all(hop->heard.measures) || std::ranges::any_of(found, &Remedy::helps)) return text;
    return text + "  A voice louder at the microphone would have, or a softer loudspeaker.\n";
}

}  // namespace tripline::explain
