// run
#include "daemon/cli/commands.h"
#include "daemon/cli/run_station.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace tripline::cli {
namespace {

struct RunOptions {
    ConfigOptions config;
    std::string recording_file;
    std::string monitor_file;
    std::string lines_log;
    std::string record_to;
    std::string events_to;
};

ExitCode run(const RunOptions& options) {
    service::Options request;
    request.record_to = options.record_to;
    request.events_to = options.events_to;
    request.print_keying = true;
    request.keys = true;
    std::string lines_log = options.lines_log;
    if (!options.recording_file.empty()) {
        request.recording = replay::RecordingSource{.file = options.recording_file, .monitor = options.monitor_file};
        if (lines_log.empty()) lines_log = default_lines_log;
    }
    return run_station(options.config, std::move(request), lines_log);
}

}  // namespace

void add_run(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("run", "Run the station in this terminal");
    const auto options = std::make_shared<RunOptions>();
    add_config_options(*command, options->config);
    auto* from = command
                     ->add_option("--from", options->recording_file,
                                  "Play a recording in real time instead of live sound, with file lines only")
                     ->type_name("FILE");
    command->add_option("--monitor", options->monitor_file, "Recording of the receiver, if in another file")
        ->type_name("FILE")
        ->needs(from);
    command
        ->add_option("--lines", options->lines_log,
                     "Log the lines to this file instead of driving any hardware")
        ->type_name("FILE");
    command->add_option("--record", options->record_to, "Record the samples received (WAV)")->type_name("FILE");
    command->add_option("--events", options->events_to, "Write the events (JSON lines)")->type_name("FILE");
    command->callback([options, &outcome] { outcome = run(*options); });
}

}  // namespace tripline::cli
