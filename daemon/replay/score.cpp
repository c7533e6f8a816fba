#include "daemon/replay/score.h"

#include "daemon/replay/spell_rules.h"
#include "daemon/station/timetable.h"

#include <algorithm>
#include <cmath>

namespace tripline::replay {
namespace {

void score_front(Score& score, const Span& over, const Spell& first) {
    if (begins_in(first, over)) {
        score.onset.push_back(first.decided - over.begin);
    } else {
        ++score.already_keyed;
    }
}

/// Overs after which the spell they were in went on, to no purpose.
int count_held_on(const Spans& overs, const std::vector<Spell>& spells, const Timing& timing) {
    int count = 0;
    for (std::size_t i = 0; i < overs.size(); ++i) {
        const Duration next = i + 1 < overs.size() ? overs[i + 1].begin : Duration::max();
        count += static_cast<int>(std::ranges::count_if(spells, [&](const Spell& spell) {
            return holds_on(spell, overs[i], next, timing);
        }));
    }
    return count;
}

void score_over(Score& score, const Span& over, const Spans& speech, const std::vector<Spell>& spells,
                const Timing& timing) {
    const auto of_over = [&](const Spell& spell) { return overlaps(spell, over); };
    const auto first = std::ranges::find_if(spells, of_over);
    if (first == spells.end()) {
        ++score.missed;
        return;
    }
    score_front(score, over, *first);
    const Duration on_the_air = std::clamp(heard(*first, timing).begin, over.begin, over.end);
    const Spans spoken = intersection(speech, {over});
    const Duration front = total(intersection(spoken, {{over.begin, on_the_air}}));
    score.front_lost.push_back(front);
    score.clipped += front > clip_limit ? 1 : 0;

    const Spans sent = heard(spells, timing);
    score.torn += is_torn(spoken, front, sent, timing) ? 1 : 0;
    score.dropout += total(difference(intersection(spoken, {{on_the_air, over.end}}), sent));
    const auto last = std::find_if(spells.rbegin(), spells.rend(), of_over);
    score.tail.push_back(last->released - over.end);
}

void append(std::vector<Duration>& to, const std::vector<Duration>& from) {
    to.insert(to.end(), from.begin(), from.end());
}

/// The detection cost sees overs and keyed spells; the hang time after an over is owed
/// to it and not scored.
Detection detection(const Spans& overs, const std::vector<Spell>& spells, const Timing& timing,
                    Duration length) {
    Spans keyed;
    for (const Spell& spell : spells) keyed.push_back({spell.keyed, spell.released});
    Spans hang;
    for (const Span& over : overs) hang.push_back({over.end, over.end + timing.hold});
    const Spans whole{{Duration::zero(), length}};
    return compare(overs, joined(std::move(keyed), {}), difference(whole, joined(std::move(hang), {})));
}

}  // namespace

Timing timing_of(const station::Settings& settings) {
    return {settings.detector.hold, station::time_to_air(settings.sequence, settings.loudspeaker_fade),
            settings.sequence.ptt.lead, settings.transmit_audio.look_ahead};
}

Score& Score::operator+=(const Score& other) {
    overs += other.overs;
    missed += other.missed;
    torn += other.torn;
    false_keys += other.false_keys;
    held_on += other.held_on;
    already_keyed += other.already_keyed;
    clipped += other.clipped;
    append(onset, other.onset);
    append(front_lost, other.front_lost);
    append(tail, other.tail);
    dropout += other.dropout;
    speech += other.speech;
    lost += other.lost;
    detection += other.detection;
    return *this;
}

Score score(const Spans& labels, const std::vector<Spell>& spells, const Timing& timing,
            Duration length) {
    const Spans speech = intersection(joined(labels, Duration::zero()), {{Duration::zero(), length}});
    const Spans overs = joined(speech, timing.hold);
    Score out;
    out.overs = static_cast<int>(overs.size());
    out.speech = total(speech);
    out.lost = total(difference(speech, heard(spells, timing)));
    for (const Span& over : overs) score_over(out, over, speech, spells, timing);
    out.false_keys = static_cast<int>(std::ranges::count_if(spells, [&](const Spell& spell) { return is_false(spell, overs); }));
    out.held_on = count_held_on(overs, spells, timing);
    out.detection = detection(overs, spells, timing, length);
    return out;
}

Duration percentile(std::vector<Duration> values, double share) {
    if (values.empty()) return Duration::zero();
    const auto size = static_cast<double>(values.size());
    const double rank = std::clamp(std::ceil(share * size), 1.0, size);
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(rank) - 1;
    std::ranges::nth_element(values, at);
    return *at;
}

}  // namespace tripline::replay
