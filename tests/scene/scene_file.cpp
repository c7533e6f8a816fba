#include "tests/scene/scene_file.h"

#include "daemon/replay/labels.h"

#include <sndfile.hh>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace tripline::scene {
namespace {

/// Speech that the scene's end cuts off is labelled up to there.
std::vector<replay::Label> labels_of(const std::vector<Spurt>& spurts, Duration scene_end, const std::string& file,
                                     int channel, const std::string& name) {
    std::vector<replay::Label> labels;
    for (const auto& s : spurts) {
        const Duration end = std::min(s.end, scene_end);
        if (s.onset < end) labels.push_back({file, channel, s.onset, end - s.onset, name});
    }
    return labels;
}

void write_sound(const FileSettings& settings, Scene& scene, IdealStation station, Hertz rate) {
    const std::string path = settings.path + settings.extension;
    const int format = settings.extension == ".flac" ? SF_FORMAT_FLAC : SF_FORMAT_WAV;
    SndfileHandle file(path, SFM_WRITE, format | SF_FORMAT_PCM_16, 2, static_cast<int>(rate.value));
    if (file.error() != SF_ERR_NO_ERROR) throw std::runtime_error(path + ": " + file.strError());
    std::vector<float> block;
    for (Frames at; at < scene.length(); at += Frames{1}) {
        const Sample sample = scene.next(!settings.never_muted && station.keyed(at));
        block.insert(block.end(), {sample.microphone, sample.receiver});
        if (block.size() < 16384 && at.count + 1 < scene.length().count) continue;
        const auto frames = static_cast<sf_count_t>(block.size() / 2);
        if (file.writef(block.data(), frames) != frames) throw std::runtime_error(path + ": write failed");
        block.clear();
    }
}

}  // namespace

std::size_t write_files(const FileSettings& settings, Scene& scene, Hertz rate) {
    const auto near = spurts_of(scene.script().near, rate);
    const auto far = spurts_of(scene.script().far, rate);
    write_sound(settings, scene, IdealStation(near, settings.hold, rate), rate);
    const std::string name = std::filesystem::path(settings.path).filename().string();
    std::ofstream text(settings.path + ".rttm");
    const Duration end = to_duration(scene.length(), rate);
    replay::write_labels(text, labels_of(near, end, name, 1, "near"));
    replay::write_labels(text, labels_of(far, end, name, 2, "far"));
    if (!text.flush()) throw std::runtime_error(settings.path + ".rttm: cannot be written");
    return join(near, settings.hold).size();
}

}  // namespace tripline::scene
