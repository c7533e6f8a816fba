#include "tests/scene/corpus.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <stdexcept>
#include <string_view>

namespace tripline::scene {
namespace {

namespace fs = std::filesystem;

struct Place {
    std::string_view name;
    std::string_view package;
    std::string_view folder;
    std::string_view prefix;  ///< of the file's name
};

constexpr std::array speech_places{
    Place{"allison", "asterisk-core-sounds-en-wav", "/usr/share/asterisk/sounds/en_US_f_Allison", ""},
    Place{"carlo", "asterisk-core-sounds-it-wav", "/usr/share/asterisk/sounds/it_IT_m_Carlo", ""},
    Place{"austen", "pocketsphinx-testdata", "/usr/share/pocketsphinx/test/data/librivox", ""},
    Place{"alsa", "alsa-utils", "/usr/share/sounds/alsa", ""},
};

constexpr std::array noise_places{
    Place{"keyboard", "bucklespring-data", "/usr/share/buckle/wav", ""},
    Place{"footsteps", "lugaru-data", "/usr/share/games/lugaru/Sounds", "FootStep"},
    Place{"impacts", "lugaru-data", "/usr/share/games/lugaru/Sounds", "Thud"},
    Place{"crowd", "tuxfootball", "/usr/share/games/tuxfootball/sound", "crowd"},
    Place{"slide", "extremetuxracer-data", "/usr/share/games/etr/sounds", "snow_slide"},
};

/// Recordings in the speech packages in which nobody speaks.
bool is_speech(const fs::path& path) {
    constexpr std::array tones{"ascending-2tone", "descending-2tone", "beep", "beeperr", "Noise"};
    return path.parent_path().filename() != "silence" &&
           std::ranges::find(tones, path.stem().string()) == tones.end();
}

std::vector<std::string> files_of(const Place& place) {
    std::vector<std::string> files;
    if (!fs::is_directory(place.folder)) return files;
    for (const auto& entry : fs::recursive_directory_iterator(place.folder)) {
        const std::string extension = entry.path().extension().string();
        if (extension != ".wav" && extension != ".ogg") continue;
        if (!entry.path().filename().string().starts_with(place.prefix)) continue;
        if (is_speech(entry.path())) files.push_back(entry.path().string());
    }
    std::ranges::sort(files);
    return files;
}

}  // namespace

std::vector<Talker> find_talkers() {
    std::vector<Talker> talkers;
    for (const Place& place : speech_places) {
        auto files = files_of(place);
        if (!files.empty()) talkers.push_back({std::string(place.name), std::move(files)});
    }
    return talkers;
}

std::vector<std::string> noise_files(const std::string& name) {
    for (const Place& place : noise_places) {
        if (place.name != name) continue;
        auto files = files_of(place);
        if (!files.empty()) return files;
        throw std::runtime_error("no noise \"" + name + "\": install " + std::string(place.package));
    }
    throw std::runtime_error("no noise is called \"" + name + "\"");
}

Corpus::Corpus(Hertz rate) : rate_(rate), talkers_(find_talkers()) {}

const Clip& Corpus::clip(const std::string& path) {
    const std::scoped_lock lock(mutex_);
    auto& slot = clips_[path];
    if (!slot) slot = std::make_unique<Clip>(load_clip(path, rate_));
    return *slot;
}

}  // namespace tripline::scene
