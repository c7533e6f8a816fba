// --config and --set, the same for every command that takes settings.
#pragma once

#include "config/load.h"

#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace tripline::cli {

struct ConfigOptions {
    std::string file;           ///< empty: none given
    config::Overlays overlays;  ///< --set, in order
};

/// The options must outlive the command.
void add_config_options(CLI::App& command, ConfigOptions& options);

/// What the options say; without a file, over the defaults.
config::Loaded load(const ConfigOptions& options);

/// Loads what the options say and writes every problem to
/// standard error. Nothing if there is an error among them: then the command exits with
/// ExitCode::refused.
std::optional<config::Loaded> load_or_tell(const ConfigOptions& options);

/// What a settings file says, for a command that only looks something up in it. Throws std::runtime_error for one with
/// mistakes, which are told before.
config::Settings named_settings(const std::string& file);

/// On standard error, for what may be meant; nothing if the text is empty.
void note(const std::string& text);

/// Says on standard error, for a command that replays with these settings, that a station which begins in mode safe keys
/// nothing; silent otherwise.
void note_safe_start(const station::Settings& settings);

/// Writes the problems to standard error, a line each, and how many more there are than are told.
void tell(const config::Problems& problems);

}  // namespace tripline::cli
