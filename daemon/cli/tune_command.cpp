// tune
#include "config/keys.h"
#include "config/write.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/plot_file.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/sound_options.h"
#include "daemon/cli/tune_axis.h"
#include "daemon/cli/write_file.h"
#include "daemon/tune/advice.h"
#include "daemon/tune/map_view.h"
#include "daemon/tune/trial.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>
#include <memory>
#include <optional>
#include <stdexcept>
#include <thread>

namespace tripline::cli {
namespace {

struct TuneOptions {
    std::vector<std::string> files;
    std::string labels;
    std::string across = "gate.open_dbfs=-64:-20:4";
    std::string up = "anti_trip.coupling_db=-36:12:4";
    std::string plot;   ///< empty: no picture
    SoundOptions sound;
    ConfigOptions config;
};

/// A problem in a line. One of a value of the map is no --set of the operator's, and its place would mislead.
std::string of_the_map(const config::Problem& problem, std::size_t overlays, const tune::Map& map) {
    const std::string text = to_string(problem);
    if (problem.at.source != "--set" || problem.at.line <= static_cast<int>(overlays)) return text;
    return (problem.key == map.up.key ? "--up " : "--across ") + text.substr(to_string(problem.at).size() + 2);
}

/// The configuration with settings over it; nothing if it is wrong, and that is told. What is
/// only to be noted is told for the settings in force, not for every value that is tried.
std::optional<config::Loaded> with(const ConfigOptions& base, const tune::Map& map, const tune::Advice& values) {
    ConfigOptions options = base;
    const auto lay = [&](const tune::Axis& axis, const std::optional<double>& value) {
        if (value) options.overlays.push_back(axis.key + '=' + config::to_toml(*value));
    };
    lay(map.across, values.across);
    lay(map.up, values.up);
    auto loaded = load(options);
    if (loaded.good()) return loaded;
    for (const auto& problem : loaded.problems) std::cerr << of_the_map(problem, base.overlays.size(), map) << '\n';
    return std::nullopt;
}

/// Of a key that took numbers from an axis.
double in_force(const config::Settings& settings, const std::string& key) {
    const config::Value value = config::find_key(key)->read(settings);
    const auto* whole = std::get_if<std::int64_t>(&value);
    return whole ? static_cast<double>(*whole) : std::get<double>(value);
}

struct Material {
    std::vector<replay::RecordingSource> sources;
    replay::LabelSet labels;

    /// By an engine of its own.
    replay::Score replayed(const station::Settings& settings) const {
        replay::Score score;
        for (const auto& source : sources) {
            replay::Recording recording(source);
            score += *replay::examine(recording, source, settings, labels, {}).score;
        }
        return score;
    }
};

/// What is recommended was seen to work.
void check_by_replay(const replay::Score& found, const replay::Score& expected) {
    if (found.missed == expected.missed && found.torn == expected.torn && found.false_keys == expected.false_keys && found.held_on == expected.held_on &&
        found.onset == expected.onset && found.tail == expected.tail) return;
    throw std::logic_error("a replay with the setting chosen does not agree with the map: please report this");
}

void print_changes(const config::Settings& before, const config::Settings& after) {
    const auto changes = config::differences(before, after);
    std::cout << (changes.empty() ? "\nThe settings in force stay.\n" : "\nChange:\n");
    for (const auto& change : changes) std::cout << "  " << change.path << " = " << change.to << "   # was " << change.from << '\n';
}

/// The advice laid over the settings in force; what of those stays was seen to work with it.
void print_advice(const tune::Map& map, const tune::Choice& choice, const tune::InForce& now,
                  const config::Settings& before, const TuneOptions& options, const Material& material) {
    tune::Advice advice = tune::advise(map, choice, now);
    auto after = with(options.config, map, advice);
    if (after && tune::mistakes(material.replayed(after->settings.station)) > 0) {
        advice = tune::whole(map, choice);
        after = with(options.config, map, advice);
    }
    if (!after) return;
    const std::string stays = what_stays(map, choice, now, advice);
    if (!stays.empty()) std::cout << '\n' << stays;
    print_changes(before, after->settings);
    const std::string beside = beside_setup(map, choice, now, advice);
    if (!beside.empty()) std::cout << '\n' << beside;
}

/// Nothing if a value of the map is refused, told once.
std::optional<std::vector<station::Settings>> settings_of(const tune::Map& map, const ConfigOptions& config) {
    std::vector<station::Settings> settings;
    for (const double up : map.up.values) {
        for (const double across : map.across.values) {
            const auto loaded = with(config, map, {across, up});
            if (!loaded) return std::nullopt;
            settings.push_back(loaded->settings.station);
        }
    }
    return settings;
}

/// Throws std::runtime_error for a recording or labels that cannot be had, before any work is done.
Material material_of(const TuneOptions& options, int receiver_channel) {
    Material material{{}, {options.labels, replay::read_labels(options.labels)}};
    for (const auto& file : options.files) {
        const auto source = replay::for_station(options.sound.source(file), receiver_channel);
        const replay::Recording recording(source);
        replay::operator_speech(material.labels, source, to_duration(recording.length(), recording.rate()));
        note(replay::labels_elsewhere(material.labels, source));
        material.sources.push_back(source);
    }
    return material;
}

std::vector<tune::Trial> explored(const Material& material, const std::vector<station::Settings>& settings) {
    std::optional<Progress> progress(std::in_place, "tune");
    double before = 0;
    const auto show = [&](double share) {
        if (share < before) progress.emplace("tune: no pair is good, counting mistakes");
        before = share;
        progress->show(share);
    };
    return tune::explore(material.sources, material.labels, settings, std::max(1U, std::thread::hardware_concurrency()), show);
}

ExitCode tune_recordings(const TuneOptions& options) {
    check_plot(options.plot, Plots::picture);
    const auto base = load_or_tell(options.config);
    if (!base) return ExitCode::refused;
    tune::Map map{axis_in("--across", options.across), axis_in("--up", options.up), {}};
    const auto settings = settings_of(map, options.config);
    if (!settings) return ExitCode::refused;
    note_safe_start(base->settings.station);
    const Material material = material_of(options, base->settings.audio.receiver_channel);
    map.cells = explored(material, *settings);
    const auto robust = tune::most_robust(map);
    const auto choice = robust ? *robust : tune::least_bad(map);
    const std::size_t chosen = choice.row * map.columns() + choice.column;
    check_by_replay(material.replayed((*settings)[chosen]), map.cells[chosen].score);
    const tune::InForce now{in_force(base->settings, map.across.key), in_force(base->settings, map.up.key)};
    std::cout << map_text(map, choice, now) << in_force_in_words(map, now, material.replayed(base->settings.station)) << '\n';
    if (!options.plot.empty()) write_file(options.plot, map_picture(map, choice, now));
    if (!robust) {
        std::cout << "No setting in the map is without a mistake; the choice shown has the fewest.\n"
                     "See what is wrong with the inputs with tripline inspect, and where the mistakes are with\n"
                     "tripline replay --labels ... --plot; a wider map, or two other settings (--across, --up), may have a place:\n"
                     "anti_trip.margin_db, say, where the loudspeaker keys.\n";
        return ExitCode::limits_not_met;
    }
    std::cout << in_words(map, choice);
    print_advice(map, choice, now, base->settings, options, material);
    return ExitCode::good;
}

}  // namespace

void add_tune(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("tune", "Try two settings at many values and find the most robust");
    const auto options = std::make_shared<TuneOptions>();
    TuneOptions& o = *options;
    command->add_option("FILE", o.files, "Recordings: microphone left, receiver right")->required();
    command->add_option("--labels", o.labels, "Who speaks when, in RTTM")->required()->type_name("FILE");
    command->add_option("--across", o.across, "Setting to the right; default gate.open_dbfs=-64:-20:4")
        ->type_name("KEY=FROM:TO:STEP");
    command->add_option("--up", o.up, "Setting upwards; default anti_trip.coupling_db=-36:12:4")
        ->type_name("KEY=FROM:TO:STEP");
    command->add_option("--plot", o.plot, "Draw the map there, as SVG")->type_name("FILE");
    add_sound_options(*command, o.sound);
    add_config_options(*command, o.config);
    command->callback([options, &outcome] { outcome = tune_recordings(*options); });
}

}  // namespace tripline::cli
