#include "daemon/explain/held.h"

#include "daemon/explain/levels.h"
#include "daemon/text/print.h"

#include <algorithm>

namespace tripline::explain {
namespace {

using replay::Span;
using replay::to_ms;
using replay::to_seconds;
using station::EventKind;

/// When the gate was open, within a transmission.
replay::Spans voice_in(const Account& account, const Span& span) {
    replay::Spans found;
    std::optional<Duration> open;
    if (!account.events.empty() && account.events.front().from == station::State::on_air) open = Duration::zero();
    bool first = true;
    for (const auto& event : account.events) {
        if (event.kind != EventKind::voice) continue;
        const Duration at = account.time_of(event);
        if (event.heard.voice) open = at;
        else if (open || first) found.push_back({open.value_or(Duration::zero()), at});
        if (!event.heard.voice) open.reset();
        first = false;
    }
    if (open) found.push_back({*open, account.length});
    return replay::intersection(replay::joined(found, Duration::zero()), {span});
}

const station::Event* end_of(const replay::Spell& spell, const Account& account) {
    const auto found = std::ranges::find_if(account.events, [&](const station::Event& event) {
        return event.kind == EventKind::state && event.reason == spell.reason && account.time_of(event) == spell.released;
    });
    return found == account.events.end() ? nullptr : &*found;
}

std::string pause_in_words(const replay::Spans& pauses, const station::Settings& settings) {
    if (pauses.empty()) return "  There was no pause in it.\n";
    const Span& longest = *std::ranges::max_element(pauses, {}, &Span::length);
    const std::string text = print("  Its longest pause, %.0f ms at %.3f s, was shorter than the hang time, gate.hold_ms = %g", to_ms(longest.length()),
                                   to_seconds(longest.begin), to_ms(settings.detector.hold));
    constexpr double least_hold_ms = 100;
    if (to_ms(longest.length()) <= least_hold_ms) return text + ".\n";
    return text + print(";\n  with less than %.0f it would have let go there.\n", to_ms(longest.length()));
}

}  // namespace

std::string held_in_words(const replay::Spell& spell, const Account& account, const station::Settings& settings) {
    const auto* end = end_of(spell, account);
    if (end != nullptr && end->mode == station::Mode::keyed) return "  The operator had forced the key: mode keyed, which this limit ends as well.\n";
    const Span on_air{spell.keyed, spell.released};
    const auto voice = voice_in(account, on_air);
    std::string text = print("  What kept the key: a voice, or what was taken for one, in %.1f s of its %.1f s%s.\n", to_seconds(replay::total(voice)),
                             to_seconds(on_air.length()), spell.from_before ? " in this recording" : "") +
                       pause_in_words(replay::difference({on_air}, voice), settings);
    if (end == nullptr || end->heard.measures.threshold <= 0) return text;
    return text + "  At its end:\n" + levels_in_words(end->heard.measures, settings.detector.gate);
}

}  // namespace tripline::explain
