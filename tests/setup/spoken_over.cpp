#include "tests/setup/spoken_over.h"

#include "daemon/setup/take.h"

#include <cmath>
#include <numbers>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr double voice_dbfs = -28;
constexpr double receiver_dbfs = -22;

/// One talker, somewhere in the take, without a longer pause.
std::vector<scene::Line> talk(double share, Duration length, double dbfs, scene::Corpus& corpus, std::uint64_t seed) {
    scene::Random random(seed);
    const auto& files = corpus.talkers()[random.index(corpus.talkers().size())].files;
    const auto whole = static_cast<double>(to_frames(length, corpus.rate()).count);
    Frames at{static_cast<std::int64_t>(whole * (1 - share) * random.uniform())};
    const Frames end = at + Frames{static_cast<std::int64_t>(whole * share)};
    std::vector<scene::Line> lines;
    while (at < end) {
        const scene::Clip& clip = corpus.clip(files[random.index(files.size())]);
        if (clip.spurts.empty()) continue;
        lines.push_back({at, &clip, static_cast<float>(to_amplitude(Decibels{dbfs - clip.active_level.value}))});
        at += Frames{static_cast<std::int64_t>(clip.samples.size())} + to_frames(200ms, corpus.rate());
    }
    return lines;
}

scene::SceneSettings settings_of(const SpokenOver& known) {
    scene::SceneSettings settings;
    settings.seed = known.seed;
    settings.script.near_level = Dbfs{voice_dbfs};
    settings.script.far_level = Dbfs{receiver_dbfs};
    settings.leak = Decibels{known.leak_db};
    settings.path.delay = known.way;
    settings.path.reverberation = known.echo;
    settings.path.drive = known.drive;
    settings.room = Decibels{known.room_db};
    settings.radio.open_band = Decibels{known.squelch_db};
    return settings;
}

std::vector<audio::Frame> played(scene::Scene scene) {
    std::vector<audio::Frame> frames;
    for (Frames now; now < scene.length(); now += Frames{1}) {
        const scene::Sample sample = scene.next(false);
        frames.push_back({sample.microphone, sample.receiver});
    }
    return frames;
}

/// The microphone as a clock has it that runs faster; by cubic interpolation.
void run_apart(std::vector<audio::Frame>& frames, double ppm) {
    std::vector<float> sound;
    for (const auto& frame : frames) sound.push_back(frame.microphone);
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const double at = static_cast<double>(i) * (1 + ppm * 1e-6);
        const auto k = static_cast<std::size_t>(at);
        if (k < 1 || k + 2 >= sound.size()) continue;
        const float t = static_cast<float>(at - static_cast<double>(k));
        const float a = sound[k - 1], b = sound[k], c = sound[k + 1], d = sound[k + 2];
        frames[i].microphone = b + 0.5F * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
    }
}

void swing(std::vector<audio::Frame>& frames, double db, Hertz rate) {
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const double turn = 2 * std::numbers::pi * static_cast<double>(i) / (5 * rate.value);
        frames[i].microphone *= static_cast<float>(to_amplitude(Decibels{0.5 * db * std::sin(turn)}));
    }
}

}  // namespace

std::vector<audio::Frame> take_of(const SpokenOver& known, scene::Corpus& corpus) {
    scene::Script script;
    script.length = to_frames(known.length, corpus.rate());
    script.far = talk(1, known.length, receiver_dbfs, corpus, 7 * known.seed + 1);
    script.near = talk(known.share, known.length, voice_dbfs + known.leak_db + known.talker_db, corpus, 13 * known.seed + 5);
    auto frames = played(scene::Scene(settings_of(known), script, corpus));
    if (known.apart_ppm != 0) run_apart(frames, known.apart_ppm);
    if (known.swing_db != 0) swing(frames, known.swing_db, corpus.rate());
    return frames;
}

Dbfs room_of(const SpokenOver& known, scene::Corpus& corpus) {
    scene::Script script;
    script.length = to_frames(10s, corpus.rate());
    const auto frames = played(scene::Scene(settings_of(known), script, corpus));
    return levels_in_band(frames, corpus.rate()).microphone;
}

}  // namespace tripline::setup
