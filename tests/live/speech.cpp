#include "tests/live/speech.h"

#include "tests/scene/scene_file.h"

#include <sndfile.h>

#include <stdexcept>
#include <vector>

namespace tripline::live {

namespace {

constexpr Hertz rate{48000};
constexpr Dbfs level{-26};

void append(std::vector<float>& stereo, const scene::Clip& clip) {
    const auto gain = static_cast<float>(to_amplitude(Decibels{level.value - clip.active_level.value}));
    for (const float sample : clip.samples) stereo.insert(stereo.end(), {gain * sample, 0.0F});
}

}  // namespace

void write_speech(const std::string& path) {
    scene::Corpus corpus(rate);
    if (corpus.talkers().empty()) throw std::runtime_error("no speech package is installed");
    std::vector<float> stereo;
    for (const std::string& file : corpus.talkers().front().files) {
        if (stereo.size() > 2 * 20 * 48000) break;
        const scene::Clip& clip = corpus.clip(file);
        if (clip.samples.size() > 48000) append(stereo, clip);
    }
    SF_INFO info{};
    info.samplerate = 48000;
    info.channels = 2;
    info.format = SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
    if (file == nullptr) throw std::runtime_error(path + " cannot be written");
    sf_writef_float(file, stereo.data(), static_cast<sf_count_t>(stereo.size() / 2));
    sf_close(file);
}

std::size_t write_conversation(const std::string& path_without_extension) {
    scene::SceneSettings settings;
    settings.seed = 20261125;
    settings.script.length = std::chrono::seconds{58};
    scene::Corpus corpus(rate);
    scene::Scene scene(settings, corpus);
    scene::FileSettings files;
    files.path = path_without_extension;
    return scene::write_files(files, scene, rate);
}

}  // namespace tripline::live
