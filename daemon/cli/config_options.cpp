#include "daemon/cli/config_options.h"

#include <CLI/CLI.hpp>

#include <iostream>
#include <stdexcept>

namespace tripline::cli {

void add_config_options(CLI::App& command, ConfigOptions& options) {
    command.add_option("-c,--config", options.file, "Configuration file; without it, the defaults")
        ->type_name("FILE");
    command
        .add_option("--set", options.overlays,
                    "One setting, over the file's: --set gate.hold_ms=2000; may be repeated")
        ->type_name("KEY=VALUE")
        ->allow_extra_args(false);
}

config::Loaded load(const ConfigOptions& options) {
    return options.file.empty() ? config::load_defaults(options.overlays)
                                : config::load(options.file, options.overlays);
}

std::optional<config::Loaded> load_or_tell(const ConfigOptions& options) {
    auto loaded = load(options);
    tell(loaded.problems);
    if (!loaded.good()) return std::nullopt;
    return loaded;
}

config::Settings named_settings(const std::string& file) {
    const auto loaded = config::load(file);
    if (loaded.good()) return loaded.settings;
    const bool unread = loaded.problems.size() == 1 && loaded.problems.front().at.line == 0;   // the file itself: nothing to check
    if (unread) throw std::runtime_error(to_string(loaded.problems.front()));
    tell(loaded.problems);
    throw std::runtime_error(file + ": has mistakes; see tripline config check");
}

void note(const std::string& text) {
    if (!text.empty()) std::cerr << "note: " << text << '\n';
}

void note_safe_start(const station::Settings& settings) {
    if (settings.start_mode != station::Mode::safe) return;
    std::cerr << "station.start_mode = \"safe\": the station would begin safe, and nothing keys until it is armed; so here nothing does.\n"
                 "With --set station.start_mode=armed this command tells what it would do then.\n";
}

void tell(const config::Problems& problems) {
    std::vector<std::string> texts;
    for (const auto& problem : problems) texts.push_back(to_string(problem));
    for (const auto& text : config::as_told(std::move(texts))) std::cerr << text << '\n';
}

}  // namespace tripline::cli
