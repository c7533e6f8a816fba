#include "tests/scene/script.h"

#include "tests/scene/conversation.h"

#include <algorithm>
#include <stdexcept>

namespace tripline::scene {
namespace {

Duration pick(const Range& range, Random& random) {
    const auto span = static_cast<double>((range.most - range.least).count());
    return range.least + Duration{static_cast<Duration::rep>(span * random.uniform())};
}

/// A talker other than the last one; people with more recordings speak more often.
const Talker& pick_talker(const Corpus& corpus, const Talker* last, Random& random) {
    const auto& talkers = corpus.talkers();
    if (talkers.size() == 1) return talkers.front();
    const auto weight = [&](const Talker& t) { return &t == last ? 0.0 : t.files.size() > 50 ? 4.0 : 1.0; };
    double sum = 0;
    for (const Talker& talker : talkers) sum += weight(talker);
    double at = random.uniform() * sum;
    for (const Talker& talker : talkers) {
        at -= weight(talker);
        if (at < 0) return talker;
    }
    return &talkers.back() == last ? talkers.front() : talkers.back();
}

void require_talkers(const Corpus& corpus) {
    if (!corpus.talkers().empty()) return;
    throw std::runtime_error("no speech: install asterisk-core-sounds-en-wav, "
                             "asterisk-core-sounds-it-wav and pocketsphinx-testdata");
}

/// The spoken part of a recording.
Duration spoken(const Clip& clip) { return clip.spurts.back().end - clip.spurts.front().onset; }

/// Of a dozen recordings drawn, the one whose speech is nearest in length.
const Clip& pick_clip(const Talker& talker, Duration length, Corpus& corpus, Random& random) {
    const Clip* best = nullptr;
    for (int drawn = 0; drawn < 12 || best == nullptr; ++drawn) {
        const Clip& clip = corpus.clip(talker.files[random.index(talker.files.size())]);
        if (clip.spurts.empty()) continue;
        const auto miss = [&](const Clip& c) { return std::chrono::abs(spoken(c) - length); };
        if (best == nullptr || miss(clip) < miss(*best)) best = &clip;
    }
    return *best;
}

/// Puts a recording's speech at each spurt; a spurt during the last recording is dropped.
std::vector<Line> lines_for(const std::vector<Spurt>& spurts, const Talker& talker, Dbfs level,
                            Frames end, Corpus& corpus, Random& random) {
    std::vector<Line> lines;
    Frames free;
    for (const Spurt& spurt : spurts) {
        const Clip& clip = pick_clip(talker, spurt.end - spurt.onset, corpus, random);
        const Frames start = to_frames(spurt.onset - clip.spurts.front().onset, corpus.rate());
        const Frames stop = start + Frames{static_cast<std::int64_t>(clip.samples.size())};
        if (start < free || stop > end) continue;
        const Decibels gain{level.value - clip.active_level.value};
        lines.push_back({start, &clip, static_cast<float>(to_amplitude(gain))});
        free = stop;
    }
    return lines;
}

/// Appends one over from `start`; returns the end of its last recording.
Frames speak(std::vector<Line>& lines, Frames start, const Talker& talker, Dbfs level,
             const AlternatingSettings& settings, Corpus& corpus, Random& random) {
    const Frames wanted = start + to_frames(pick(settings.over, random), corpus.rate());
    Frames at = start;
    while (true) {
        const Clip& clip = corpus.clip(talker.files[random.index(talker.files.size())]);
        if (clip.spurts.empty()) continue;
        const Decibels gain{level.value - clip.active_level.value};
        lines.push_back({at, &clip, static_cast<float>(to_amplitude(gain))});
        at += Frames{static_cast<std::int64_t>(clip.samples.size())};
        if (at >= wanted) return at;
        at += to_frames(pick(settings.pause, random), corpus.rate());
    }
}

}  // namespace

Script alternate(const AlternatingSettings& settings, Corpus& corpus, Random& random) {
    require_talkers(corpus);
    Script script;
    script.length = to_frames(settings.length, corpus.rate());
    const Frames last_start = script.length - to_frames(settings.over.most + 8s, corpus.rate());
    Frames at = to_frames(2s, corpus.rate());
    const Talker* talker = nullptr;
    for (bool near = false; at < last_start; near = !near) {
        talker = &pick_talker(corpus, talker, random);
        std::vector<Line> silent;
        auto& lines = near ? (settings.near_speaks ? script.near : silent)
                           : (settings.far_speaks ? script.far : silent);
        at = speak(lines, at, *talker, near ? settings.near_level : settings.far_level, settings,
                   corpus, random);
        at += to_frames(pick(near ? settings.far_answers : settings.near_answers, random),
                        corpus.rate());
    }
    return script;
}

Script converse(const AlternatingSettings& settings, Corpus& corpus, Random& random) {
    require_talkers(corpus);
    Script script;
    script.length = to_frames(settings.length, corpus.rate());
    const Talker& near = pick_talker(corpus, nullptr, random);
    const Talker& far = pick_talker(corpus, &near, random);
    const Turns turns = converse(settings.length, random);
    if (settings.near_speaks) {
        script.near = lines_for(turns.near, near, settings.near_level, script.length, corpus, random);
    }
    if (settings.far_speaks) {
        script.far = lines_for(turns.far, far, settings.far_level, script.length, corpus, random);
    }
    return script;
}

std::vector<Spurt> spurts_of(const std::vector<Line>& lines, Hertz rate) {
    std::vector<Spurt> spurts;
    for (const Line& line : lines) {
        const Duration start = to_duration(line.start, rate);
        for (const Spurt& s : line.clip->spurts) spurts.push_back({start + s.onset, start + s.end});
    }
    return join(std::move(spurts), 200ms);
}

}  // namespace tripline::scene
