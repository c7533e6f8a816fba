#include "daemon/replay/mistake.h"

#include "daemon/replay/spell_rules.h"

#include <algorithm>

namespace tripline::replay {
namespace {

/// What of an over was not sent: all of it, its front, or too much on the whole.
void judge_speech(const Span& over, const Spans& speech, const std::vector<Spell>& spells, const Timing& timing,
                 std::vector<Mistake>& found) {
    const auto first = std::ranges::find_if(spells, [&](const Spell& s) { return overlaps(s, over); });
    if (first == spells.end()) {
        found.push_back({MistakeKind::missed, over});
        return;
    }
    const Duration on_the_air = std::clamp(heard(*first, timing).begin, over.begin, over.end);
    const Span front{over.begin, on_the_air};
    const Spans spoken = intersection(speech, {over});
    const Duration lost = total(intersection(spoken, {front}));
    if (is_torn(spoken, lost, heard(spells, timing), timing)) found.push_back({MistakeKind::torn, over});
    if (lost > clip_limit) found.push_back({MistakeKind::clipped, front});
}

void judge_end(const Span& over, Duration next, const std::vector<Spell>& spells, const Timing& timing,
               std::vector<Mistake>& found) {
    for (const Spell& spell : spells) {
        const Duration until = std::min(spell.released, next);
        if (holds_on(spell, over, next, timing)) {
            found.push_back({MistakeKind::held_on, {over.end + timing.hold, until}});
        }
    }
}

}  // namespace

std::string_view name(MistakeKind kind) {
    switch (kind) {
        case MistakeKind::missed: return "missed";
        case MistakeKind::torn: return "torn";
        case MistakeKind::false_key: return "false key";
        case MistakeKind::held_on: return "held on";
        case MistakeKind::clipped: return "clipped";
    }
    return "";
}

std::vector<Mistake> mistakes(const Spans& labels, const std::vector<Spell>& spells, const Timing& timing) {
    const Spans speech = joined(labels, Duration::zero());
    const Spans overs = joined(labels, timing.hold);
    std::vector<Mistake> found;
    for (std::size_t i = 0; i < overs.size(); ++i) {
        const Duration next = i + 1 < overs.size() ? overs[i + 1].begin : Duration::max();
        judge_speech(overs[i], speech, spells, timing, found);
        judge_end(overs[i], next, spells, timing, found);
    }
    for (const Spell& spell : spells) {
        if (is_false(spell, overs)) found.push_back({MistakeKind::false_key, {spell.keyed, spell.released}});
    }
    std::ranges::stable_sort(found, {}, [](const Mistake& m) { return m.at.begin; });
    return found;
}

}  // namespace tripline::replay
