// explain
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/sound_options.h"
#include "daemon/cli/time_option.h"
#include "daemon/explain/story.h"

#include <CLI/CLI.hpp>

#include <array>
#include <filesystem>
#include <iostream>
#include <memory>
#include <stdexcept>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""ms;

constexpr Duration around = 500ms;

struct ExplainOptions {
    std::string file;
    std::string time;   ///< empty: all transmissions
    SoundOptions sound;
    ConfigOptions config;
};

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "It was explained."},
    ExitCodeText{ExitCode::refused, "The usage, the recording or the configuration is wrong."}};

constexpr auto of_a_running_station =
    "A running station is explained from what its black box keeps:\n"
    "  tripline capture                                   (its log names the file)\n"
    "  tripline explain CAPTURE.flac TIME --config CAPTURE.toml";

/// "tripline explain 0:32" is meant for a running station.
void refuse_time_alone(const ExplainOptions& options) {
    if (!time_in(options.file) || std::filesystem::exists(options.file)) return;
    throw std::runtime_error(options.file + " is a time, and a recording is needed. " + of_a_running_station);
}

explain::Account account_of(const ExplainOptions& options, const station::Settings& settings, Duration at) {
    Progress progress(options.file);
    replay::Recording recording(options.sound.source(options.file));
    if (at > to_duration(recording.length(), recording.rate())) {
        throw std::runtime_error(options.file + ": ends before " + options.time);
    }
    return explain::account_of(recording, settings, {at - around, at + around},
                               [&](double share) { progress.show(share); });
}

ExitCode explain_recording(const ExplainOptions& options) {
    refuse_time_alone(options);
    const auto at = options.time.empty() ? Duration::zero() : time_in(options.time);
    if (!at) throw std::runtime_error(options.time + ": is not a time: seconds, M:SS or H:MM:SS");
    const auto loaded = load_or_tell(options.config);
    if (!loaded) return ExitCode::refused;
    const auto account = account_of(options, loaded->settings.station, *at);
    std::cout << (options.time.empty()
                      ? explain::all_in_words(account, loaded->settings.station)
                      : explain::moment_in_words(account, *at, options.sound.source(options.file), loaded->settings));
    return ExitCode::good;
}

}  // namespace

void add_explain(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "explain", "Tell why the station keyed, did not key, or let go in a recording, and what would change it");
    const auto options = std::make_shared<ExplainOptions>();
    ExplainOptions& o = *options;
    command->add_option("FILE", o.file, "Recording: microphone left, receiver right")->required();
    command->add_option("TIME", o.time, "The moment in question: seconds, M:SS or H:MM:SS; without it, every "
                                        "transmission is explained");
    add_sound_options(*command, o.sound);
    add_config_options(*command, o.config);
    command->footer(of_a_running_station + std::string("\n\n") + exit_status_text(statuses));
    command->callback([options, &outcome] { outcome = explain_recording(*options); });
}

}  // namespace tripline::cli
