#include "tests/field/closed_loop.h"

#include "daemon/replay/spell_rules.h"

#include <algorithm>

namespace tripline::field {
namespace {

using std::chrono_literals::operator""ms;

replay::Spans labels_of(const scene::Scene& scene, Hertz rate) {
    replay::Spans spans;
    for (const auto& s : scene::spurts_of(scene.script().near, rate)) spans.push_back({s.onset, s.end});
    return spans;
}

/// Power of the clean near voice over the 50 ms from a moment.
Dbfs level_from(const std::vector<scene::Line>& lines, Frames from, Hertz rate) {
    const Frames count = to_frames(50ms, rate);
    double energy = 0;
    for (const scene::Line& line : lines) {
        for (std::int64_t i = 0; i < count.count; ++i) {
            const std::int64_t at = from.count + i - line.start.count;
            if (at < 0 || at >= static_cast<std::int64_t>(line.clip->samples.size())) continue;
            const double sample = line.gain * line.clip->samples[static_cast<std::size_t>(at)];
            energy += 2 * sample * sample;
        }
    }
    return to_dbfs(static_cast<Power>(energy / static_cast<double>(count.count)));
}

std::vector<Onset> onsets_of(const replay::Spans& overs, const std::vector<replay::Spell>& spells,
                             const std::vector<scene::Line>& lines, Hertz rate, Dbfs voice) {
    std::vector<Onset> onsets;
    for (const replay::Span& over : overs) {
        const auto first = std::ranges::find_if(spells, [&](const replay::Spell& s) {
            return s.decided >= over.begin - replay::early_tolerance && s.decided <= over.end;
        });
        if (first == spells.end()) continue;
        const Dbfs start = level_from(lines, to_frames(over.begin, rate), rate);
        onsets.push_back({first->decided - over.begin, Decibels{start.value - voice.value}});
    }
    return onsets;
}

/// The detector's part alone: what is said until 60 ms before it decided is lost, and so is what falls between spells.
int count_short_ahead(const replay::Spans& speech, std::vector<replay::Spell> spells, Duration hold) {
    constexpr double share = 0.005;
    for (replay::Spell& spell : spells) spell.keyed = std::min(spell.keyed, spell.decided);
    const replay::Spans sent = replay::heard(spells, {.hold = hold, .look_ahead = 60ms});
    const replay::Spans overs = replay::joined(speech, hold);
    return static_cast<int>(std::ranges::count_if(overs, [&](const replay::Span& over) {
        const replay::Spans spoken = replay::intersection(speech, {over});
        return replay::to_seconds(replay::total(replay::difference(spoken, sent))) > share * replay::to_seconds(replay::total(spoken));
    }));
}

void move_relays(scene::Scene& scene, station::Lines from, station::Lines to) {
    if (from.mute != to.mute) scene.move(0);
    if (from.antenna != to.antenna) scene.move(1);
    if (from.ptt != to.ptt) scene.move(2);
}

}  // namespace

Outcome run(scene::Scene& scene, Keyer& keyer, Hertz rate, Dbfs voice) {
    station::Lines lines;
    for (Frames at; at < scene.length(); at += Frames{1}) {
        move_relays(scene, lines, keyer.lines());
        lines = keyer.lines();
        keyer.push(scene.next(lines.mute));
    }
    const auto spells = keyer.finish();
    const auto labels = labels_of(scene, rate);
    const auto timing = keyer.timing();
    const Duration length = to_duration(scene.length(), rate);
    const auto speech = replay::intersection(replay::joined(labels, Duration::zero()), {{Duration::zero(), length}});
    return {replay::score(labels, spells, timing, length),
            onsets_of(replay::joined(labels, timing.hold), spells, scene.script().near, rate, voice),
            count_short_ahead(speech, spells, timing.hold), timing};
}

}  // namespace tripline::field
