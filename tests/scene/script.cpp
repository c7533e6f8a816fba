#include "tests/scene/script.h"

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
    if (corpus.talkers().empty()) {
        throw std::runtime_error("no speech: install asterisk-core-sounds-en-wav, "
                                 "asterisk-core-sounds-it-wav and pocketsphinx-testdata");
    }
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

std::vector<Spurt> spurts_of(const std::vector<Line>& lines, Hertz rate) {
    std::vector<Spurt> spurts;
    for (const Line& line : lines) {
        const Duration start = to_duration(line.start, rate);
        for (const Spurt& s : line.clip->spurts) spurts.push_back({start + s.onset, start + s.end});
    }
    return join(std::move(spurts), 200ms);
}

}  // namespace tripline::scene
