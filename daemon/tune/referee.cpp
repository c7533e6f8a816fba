#include "daemon/tune/referee.h"

#include "daemon/replay/spell_rules.h"

#include <algorithm>

namespace tripline::tune {

using replay::MistakeKind;

Referee::Referee(const replay::Spans& speech, const replay::Timing& timing) : timing_(timing) {
    const replay::Spans overs = replay::joined(speech, timing.hold);
    for (std::size_t i = 0; i < overs.size(); ++i) {
        const Duration next_end = i + 1 < overs.size() ? overs[i + 1].end : overs[i].end;
        overs_.push_back({replay::intersection(speech, {{overs[i].begin, next_end}}), overs[i],
                          overs[i].end + timing.hold + replay::held_on_limit + timing.look_ahead});
    }
}

std::optional<MistakeKind> Referee::look(const std::vector<replay::Spell>& spells, Duration now, Seen& seen) const {
    while (seen.spells < spells.size()) {
        if (!wanted(spells[seen.spells++])) return MistakeKind::false_key;
    }
    while (seen.overs < overs_.size() && overs_[seen.overs].sure < now) {
        const Over& over = overs_[seen.overs++];
        const auto near = std::ranges::find_if(spells, [&](const auto& spell) {
            return spell.reason == station::Reason::none || spell.released > over.span.begin;
        });
        if (const auto kind = judge(over, {near, spells.end()}, now)) return kind;
    }
    return std::nullopt;
}

bool Referee::wanted(const replay::Spell& spell) const {
    return std::ranges::any_of(overs_, [&](const Over& over) { return replay::begins_in(spell, over.span); });
}

std::optional<MistakeKind> Referee::judge(const Over& over, std::vector<replay::Spell> spells, Duration now) const {
    if (!spells.empty() && spells.back().reason == station::Reason::none) spells.back().released = now;
    for (const replay::Mistake& mistake : replay::mistakes(over.speech, spells, timing_)) {
        const bool lost = mistake.kind == MistakeKind::missed || mistake.kind == MistakeKind::torn;
        const bool held = mistake.kind == MistakeKind::held_on;
        if (lost && mistake.at.begin == over.span.begin) return mistake.kind;
        if (held && mistake.at.begin == over.span.end + timing_.hold) return mistake.kind;
    }
    return std::nullopt;
}

}  // namespace tripline::tune
