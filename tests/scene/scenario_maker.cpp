// scenario_maker CUES FOLDER OUT: a scene by a cue sheet, written as OUT.flac and OUT.rttm.
// A cue is a line "near|far|room START_S LEVEL_DBFS FILE"; FILE lies in FOLDER. The level of
// speech is its active level; a room sound's is its peak, re a full-scale peak. Before the cues may stand
// "rate HZ" and "open_band DB", the receiver's noise, relative to the speech there.
#include "tests/scene/scene_file.h"

#include <algorithm>
#include <fstream>
#include <iostream>
#include <sstream>
#include <stdexcept>

namespace {

using namespace tripline;

constexpr double voice_dbfs = -24;
constexpr double receiver_dbfs = -24;

double peak_db(const scene::Clip& clip) {
    float peak = 1e-9F;
    for (const float sample : clip.samples) peak = std::max(peak, std::abs(sample));
    return 20 * std::log10(static_cast<double>(peak));
}

struct Sheet {
    Hertz rate{16000};
    Decibels open_band{-10};
    std::vector<std::string> cues;
};

Sheet read_sheet(const std::string& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error(path + ": cannot be read");
    Sheet sheet;
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line.front() == '#') continue;
        std::istringstream fields(line);
        std::string word;
        fields >> word;
        if (word == "rate") fields >> sheet.rate.value;
        else if (word == "open_band") fields >> sheet.open_band.value;
        else sheet.cues.push_back(line);
        if (!fields) throw std::runtime_error("bad line: " + line);
    }
    return sheet;
}

void add_cue(scene::Script& script, const std::string& text, const std::string& folder,
             scene::Corpus& corpus) {
    const Hertz rate = corpus.rate();
    std::istringstream fields(text);
    std::string kind;
    std::string file;
    double start_s = 0;
    double level_db = 0;
    if (!(fields >> kind >> start_s >> level_db >> file)) throw std::runtime_error("bad cue: " + text);
    auto& lines = kind == "near" ? script.near : kind == "far" ? script.far : script.room;
    const scene::Clip& clip = corpus.clip(folder + "/" + file);
    const double own_db = kind == "room" ? peak_db(clip) : clip.active_level.value;
    lines.push_back({to_frames(Duration{static_cast<Duration::rep>(start_s * 1e9)}, rate), &clip,
                     static_cast<float>(to_amplitude(Decibels{level_db - own_db}))});
    const Frames end = lines.back().start + Frames{static_cast<std::int64_t>(clip.samples.size())};
    script.length = std::max(script.length, end + to_frames(std::chrono::seconds(4), rate));
    std::cout << text << ": to " << static_cast<double>(end.count) / rate.value << " s\n";
}

void make(const std::string& cues, const std::string& folder, const std::string& out) {
    const Sheet sheet = read_sheet(cues);
    scene::Corpus corpus(sheet.rate);
    scene::Script script;
    for (const std::string& line : sheet.cues) add_cue(script, line, folder, corpus);
    scene::SceneSettings settings;
    settings.script.near_level = Dbfs{voice_dbfs};
    settings.script.far_level = Dbfs{receiver_dbfs};
    settings.room = Decibels{-35};
    settings.radio.open_band = sheet.open_band;
    scene::Scene scene(settings, std::move(script), corpus);
    scene::write_files({.path = out, .extension = ".flac"}, scene, sheet.rate);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 4) {
        std::cerr << "usage: scenario_maker CUES FOLDER OUT\n";
        return 2;
    }
    try {
        make(argv[1], argv[2], argv[3]);
    } catch (const std::exception& error) {
        std::cerr << "scenario_maker: " << error.what() << '\n';
        return 2;
    }
    return 0;
}
