#include "tests/setup/session.h"

#include <sndfile.hh>

#include <unistd.h>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""s;

constexpr Duration lead_in = 2s;   // of a scene, before the first word

/// Appends a scene with these talkers; returns where it lies.
replay::Span append(std::vector<float>& samples, scene::SceneSettings settings, bool near, bool far, Duration length,
                    scene::Corpus& corpus) {
    const Hertz rate = corpus.rate();
    settings.script.length = length;
    settings.script.near_speaks = near;
    settings.script.far_speaks = far;
    scene::Scene scene(settings, corpus);
    const auto begin = to_duration({static_cast<std::int64_t>(samples.size() / 2)}, rate);
    for (Frames now; now < scene.length(); now += Frames{1}) {
        const auto sample = scene.next(false);
        samples.push_back(sample.microphone);
        samples.push_back(sample.receiver);
    }
    return {begin + lead_in, begin + length};
}

}  // namespace

scene::SceneSettings known_station() {
    scene::SceneSettings settings;
    settings.seed = 11;
    settings.script.near_level = Dbfs{-28};
    settings.script.far_level = Dbfs{-22};
    settings.leak = Decibels{-14};
    settings.path.delay = std::chrono::milliseconds{23};
    settings.room = Decibels{-34};
    settings.radio.open_band = Decibels{-70};
    return settings;
}

Session::Session(scene::SceneSettings settings, Decibels soft, scene::Corpus& corpus) {
    static int number = 0;
    source_.file = std::filesystem::temp_directory_path() /
                   ("tripline-session-" + std::to_string(::getpid()) + "-" + std::to_string(++number) + ".wav");
    std::vector<float> samples;
    stretches_.room = append(samples, settings, false, false, 12s, corpus);
    stretches_.receiver = append(samples, settings, false, true, 60s, corpus);
    stretches_.voice = append(samples, settings, true, false, 60s, corpus);
    scene::SceneSettings softly = settings;   // the room and the leak stay as loud as they were
    softly.script.near_level.value -= soft.value;
    softly.room.value += soft.value;
    softly.leak.value += soft.value;
    stretches_.soft = append(samples, softly, true, false, 60s, corpus);
    SndfileHandle file(source_.file.string(), SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 2,
                       static_cast<int>(corpus.rate().value));
    file.writef(samples.data(), static_cast<sf_count_t>(samples.size() / 2));
}

}  // namespace tripline::setup
