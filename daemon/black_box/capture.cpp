#include "daemon/black_box/capture.h"

#include "config/keys.h"
#include "daemon/black_box/agreement.h"
#include "daemon/black_box/budget.h"
#include "daemon/replay/event_line.h"
#include "daemon/replay/memory_file.h"
#include "daemon/text/print.h"

#include <fstream>
#include <stdexcept>

namespace tripline::black_box {
namespace {

namespace fs = std::filesystem;

double seconds(Frames frames, Hertz rate) { return static_cast<double>(frames.count) / rate.value; }

void write_text(const fs::path& path, const std::string& text) {
    std::ofstream file(path);
    file << text;
    if (!file.flush()) throw std::runtime_error(path.string() + ": cannot be written");
}

/// All of them, so that a later version with other defaults replays the same.
std::string settings_text(config::Settings settings, station::Mode mode) {
    settings.station.start_mode = mode == station::Mode::safe ? mode : station::Mode::armed;
    std::string text = "# The settings that were in force, and the mode at the beginning.\n";
    for (const config::Key& key : config::all_keys()) {
        text += key.path + " = " + config::to_toml(key.read(settings)) + '\n';
    }
    return text;
}

std::string events_text(const Stretch& stretch) {
    std::string text;
    for (const auto& event : stretch.events) text += replay::event_line(event, stretch.rate) + '\n';
    return text;
}

/// When the gate was open, as labels to be corrected by hand.
std::string labels_text(const Stretch& stretch, const std::string& name) {
    std::string text;
    bool open = false;
    Frames since;
    const auto label = [&](Frames until) {
        text += print("SPEAKER %s 1 %.3f %.3f <NA> <NA> heard <NA> <NA>\n", name.c_str(), seconds(since, stretch.rate),
                      seconds(until - since, stretch.rate));
    };
    bool first = true;
    for (const auto& event : stretch.events) {
        if (event.kind != station::EventKind::voice) continue;
        if (event.heard.voice) since = event.at;
        else if (open || first) label(event.at);
        open = event.heard.voice;
        first = false;
    }
    if (open) label(length_of(stretch.past));
    return text;
}

std::string from_text(const char* what, const std::optional<Frames>& from, Hertz rate) {
    if (!from) return print("  %s: not to the end\n", what);
    if (from->count == 0) return print("  %s: all the same\n", what);
    return print("  %s: the same from %.3f s on\n", what, seconds(*from, rate));
}

std::string agreement_text(const fs::path& sound, const Stretch& stretch, const station::Settings& settings, const Haste& haste) {
    try {
        const auto between = [&] {
            if (haste.hurried()) throw std::runtime_error("the daemon was about to stop");
        };
        between();
        const Agreement found = agreement(sound, settings, stretch.memory, stretch.events, between);
        const char* ear = stretch.memory.empty() ? "by an ear that has learnt nothing yet" : "with what the station remembered";
        return print("Its %zu event%s, in a replay %s:\n", stretch.events.size(), stretch.events.size() == 1 ? "" : "s", ear) +
               from_text("decisions", found.decisions, stretch.rate) + from_text("every figure", found.figures, stretch.rate);
    } catch (const std::exception& error) {
        return std::string(haste.hurried() ? "Not replayed: " : "It cannot be replayed: ") + error.what() + '\n';
    }
}

std::string description(const fs::path& sound, const Stretch& stretch, const station::Settings& settings, const Haste& haste) {
    const std::string file = sound.filename().string();
    const std::string stem = sound.stem().string();
    return print("Captured: %s, %s (UTC)\n", stretch.why.c_str(), stretch.time.c_str()) +
           print("%.1f s of microphone and receiver, up to the capture\n", seconds(length_of(stretch.past), stretch.rate)) +
           (stretch.complete ? "It begins where the sound was opened, or these settings came into force.\n" : "") + "Replay: tripline replay " + file +
           " --config " + stem + ".toml" + (stretch.memory.empty() ? "" : " --memory " + stem + ".memory") + '\n' + agreement_text(sound, stretch, settings, haste);
}

void write_all(const fs::path& stem, const Stretch& stretch, const config::Settings& in_force, const fs::path& sound, const Haste& haste) {
    station::Settings settings = in_force.station;
    settings.start_mode = stretch.mode == station::Mode::safe ? stretch.mode : station::Mode::armed;
    const auto with = [&](const char* extension) {
        fs::path path = stem;
        return path += extension;
    };
    write_text(with(".events.jsonl"), events_text(stretch));
    write_text(with(".rttm"), labels_text(stretch, stem.filename().string()));
    if (!stretch.memory.empty()) write_text(with(".memory"), replay::memory_text(stretch.rate, stretch.memory));
    write_text(with(".toml"), settings_text(in_force, stretch.mode));
    write_text(with(".txt"), description(sound, stretch, settings, haste));
}

void delete_files(const fs::path& stem) {
    std::error_code ignored;   // it is gone, or the failure that led here is told
    for (const char* extension : {".flac", ".wav", ".events.jsonl", ".rttm", ".toml", ".memory", ".txt"}) {
        fs::path path = stem;
        fs::remove(path += extension, ignored);
    }
}

}  // namespace

fs::path write_capture(const fs::path& folder, const Stretch& stretch, const config::Settings& in_force, const Haste& haste) {
    const fs::path stem = folder / (numbered_prefix(next_number(folder)) + stretch.time + '-' + stretch.why);
    try {
        const fs::path sound = write_sound(stem, stretch.rate, stretch.past, haste);
        write_all(stem, stretch, in_force, sound, haste);
        return sound;
    } catch (...) {
        delete_files(stem);
        throw;
    }
}

}  // namespace tripline::black_box
