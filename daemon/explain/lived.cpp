#include "daemon/explain/lived.h"

#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <algorithm>
#include <iterator>

namespace tripline::explain {
namespace {

using replay::to_seconds;
using station::EventKind;
using station::Mode;
using station::Reason;
using std::chrono_literals::operator""ms;

std::string told(Mode mode) { return mode == Mode::keyed ? "key" : std::string(station::name(mode)); }

/// The last command up to a time; null: none since the recording began.
const station::Event* command_before(const Account& lived, Duration at) {
    const station::Event* last = nullptr;
    for (const auto& event : lived.events) {
        if (lived.time_of(event) > at) break;
        if (event.kind == EventKind::mode) last = &event;
    }
    return last;
}

/// Nothing where no event tells it.
std::optional<Mode> mode_at(const Account& lived, Duration at) {
    if (const auto* command = command_before(lived, at)) return command->mode;
    if (lived.events.empty() || lived.events.front().kind == EventKind::mode) return std::nullopt;
    return lived.events.front().mode;
}

std::string key_in_words(const replay::Spell* spell) {
    if (spell == nullptr) return "not keyed";
    const std::string end = spell->reason == Reason::none ? std::string("where the recording ends")
                                                          : "by " + std::string(station::name(spell->reason));
    return "keyed " + keyed_in_words(*spell) + ", let go " + end;
}

/// Why a forced key is not on the air.
std::string lost_key_in_words(const Account& lived, Duration since, Duration at) {
    const auto spell = std::find_if(lived.spells.rbegin(), lived.spells.rend(), [&](const replay::Spell& s) {
        return s.released <= at && s.released >= since;
    });
    if (spell == lived.spells.rend()) return "  It was on its way, or something forbade it.\n";
    return print("  The key had opened at %.3f s by %s; a forced one does not come back by itself.\n",
                 to_seconds(spell->released), std::string(station::name(spell->reason)).c_str());
}

/// The moment was in another mode than the replay's: what the operator did is all there is to tell.
std::string of_another_mode(const Account& lived, const Account& replayed, Mode mode, Duration at) {
    const auto* command = command_before(lived, at);
    const std::string since =
        command ? print("by command at %.3f s%s", to_seconds(lived.time_of(*command)), lived.clock(lived.time_of(*command)).c_str()) : "from before the recording's beginning";
    const auto* spell = lived.spell_at(at);
    std::string text = print("At %.3f s%s: ", to_seconds(at), lived.clock(at).c_str()) + key_in_words(spell) + '\n';
    text += "  The station was in mode " + std::string(station::name(mode)) + ", " + since;
    if (mode == Mode::safe) text += ", and nothing keys: tripline arm lets the voice key.\n";
    else if (mode == Mode::keyed) text += spell ? ": the operator forced the key.\n" : ": the operator had forced the key.\n";
    else text += ".\n";
    if (mode == Mode::keyed && !spell) text += lost_key_in_words(lived, command ? lived.time_of(*command) : Duration::zero(), at);
    return text + "So say the events beside the recording. A replay has no commands, so no settings are tried; in it: " +
           key_in_words(replayed.spell_at(at)) + ".\n";
}

Duration end_of(const replay::Spell* spell) { return spell ? spell->released : Duration::zero(); }

/// What a replay does not have: a command, or a fault.
bool is_missing(const station::Event& event) {
    return event.kind == EventKind::mode || (event.kind == EventKind::state && event.reason == Reason::fault);
}

Account without_commands(Account lived) {
    std::erase_if(lived.events, [](const station::Event& event) { return event.kind == EventKind::mode; });
    return lived;
}

std::optional<Duration> last_missing(const Account& lived, Duration until) {
    std::optional<Duration> last;
    for (const auto& event : lived.events) {
        if (lived.time_of(event) > until) break;
        if (is_missing(event)) last = lived.time_of(event);
    }
    return last;
}

station::State state_at(const Account& account, Duration at) {
    station::State state = account.events.empty() ? station::State::rest : account.events.front().from;
    for (const auto& event : account.events) {
        if (account.time_of(event) > at) break;
        if (event.kind == EventKind::state) state = event.to;
    }
    return state;
}

bool at_rest(const Account& account, Duration at) { return state_at(account, at) == station::State::rest; }

/// Whether both stations stood at rest, and not locked out, at one time within a stretch. They leave it only at events.
bool met_at_rest(const Account& lived, const Account& replayed, const replay::Span& within) {
    if (at_rest(lived, within.begin) && at_rest(replayed, within.begin)) return true;
    const auto meets = [&](const Account& one, const Account& other) {
        return std::ranges::any_of(one.events, [&](const station::Event& event) {
            const Duration at = one.time_of(event);
            return event.kind == EventKind::state && event.to == station::State::rest && at > within.begin && at <= within.end &&
                   at_rest(other, at);
        });
    };
    return meets(lived, replayed) || meets(replayed, lived);
}

/// Where the story of a moment begins: with the transmission it is in, or as far before it as explain looks.
Duration begin_of(const replay::Spell* was, const replay::Spell* is, Duration at) {
    Duration begin = std::max(Duration::zero(), at - 500ms);
    for (const auto* spell : {was, is}) if (spell) begin = std::min(begin, spell->decided);
    return begin;
}

Likeness likeness_in_its_mode(const Account& lived, const Account& replayed, Duration at, Duration within, bool same_settings) {
    const auto* was = lived.spell_at(at);
    const auto* is = replayed.spell_at(at);
    const Duration end = std::max({at + within, at + 500ms, end_of(was), end_of(is)});
    const auto last = last_missing(lived, end);
    const Duration begin = begin_of(was, is, at);
    const bool over = !last || (*last < begin && met_at_rest(lived, replayed, {*last, begin}));
    const std::string missing = over ? std::string() : missing_in_a_replay(lived, end);
    const bool differs = same_settings && (was == nullptr) != (is == nullptr);
    if (missing.empty() && !differs) return {};
    std::string text = print("At %.3f s%s the station itself was ", to_seconds(at), lived.clock(at).c_str()) + key_in_words(was) +
                       ": so say the events beside the recording.\n";
    text += missing.empty() ? std::string("The replay differs from that")
                            : "They have what a replay lacks: " + missing;
    return {text + ". What follows is the replay's, so no settings are tried.\n\n"};
}

}  // namespace

Account lived_account(std::vector<station::Event> events, Hertz rate, Duration length) {
    Account account;
    account.rate = rate;
    account.length = length;
    replay::SpellBook book(rate);
    for (const auto& event : events) book.take(event);
    book.close(to_frames(length, rate));
    account.spells = book.spells();
    account.events = std::move(events);
    return account;
}

std::vector<station::Event> commands_until_armed(const Account& lived, Duration at) {
    std::vector<station::Event> commands;
    const auto* last = command_before(lived, at);
    if (last == nullptr || last->mode != Mode::armed) return commands;
    std::ranges::copy_if(lived.events, std::back_inserter(commands), [](const station::Event& event) { return event.kind == EventKind::mode; });
    return commands;
}

std::string missing_in_a_replay(const Account& lived, Duration until) {
    std::string text;
    for (const auto& event : lived.events) {
        if (lived.time_of(event) > until) break;
        if (!is_missing(event)) continue;
        text += (text.empty() ? "" : ", ") + (event.kind != EventKind::mode ? "a fault" : told(event.mode)) +
                print(" at %.3f s", to_seconds(lived.time_of(event)));
    }
    return text;
}

Likeness likeness(const Account& lived, const Account& replayed, Duration at, Duration within, bool same_settings) {
    if (replayed.commanded) return likeness_in_its_mode(without_commands(lived), replayed, at, within, same_settings);
    const Mode replays = replayed.hops.empty() ? Mode::armed : replayed.hops.front().mode;
    const auto mode = mode_at(lived, at);
    if (mode && *mode != replays && (same_settings || command_before(lived, at)))
        return {of_another_mode(lived, replayed, *mode, at), false};
    return likeness_in_its_mode(lived, replayed, at, within, same_settings);
}

}  // namespace tripline::explain
