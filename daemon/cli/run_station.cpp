#include "daemon/cli/run_station.h"

#include "config/value.h"
#include "daemon/cli/run_files.h"
#include "daemon/service/service.h"

#include <filesystem>
#include <iostream>

namespace tripline::cli {

namespace {

config::Loaded load_again(const ConfigOptions& options) {
    return options.file.empty() ? config::load_defaults(options.overlays)
                                : config::load(options.file, options.overlays);
}

service::Reloaded reload(ConfigOptions options, const std::string& lines_log, const config::Overlays& set) {
    options.overlays.insert(options.overlays.end(), set.begin(), set.end());
    config::Loaded loaded = load_again(options);
    service::Reloaded reloaded;
    for (const config::Problem& problem : loaded.problems) reloaded.problems.push_back(to_string(problem));
    if (!loaded.good()) return reloaded;
    if (!lines_log.empty()) use_file_lines(loaded.settings.lines, lines_log);
    reloaded.settings = loaded.settings;
    return reloaded;
}

}  // namespace

std::string awaited_text(const std::string& device) {
    if (!device.empty()) return "sound device " + config::quoted(device) + ": this waits for it until it is there";
    return "the settings name no sound device (audio.device), so this waits in vain: tripline devices tells the names, --config FILE "
           "gives the settings, and --from FILE plays a recording instead";
}

void use_file_lines(lines::Wiring& wiring, const std::string& path) {
    for (const lines::Role role : lines::all_roles) {
        lines::LineSettings& line = wiring[lines::index(role)];
        if (line.kind == lines::Kind::none && role == lines::Role::alive) continue;
        line = {};
        line.kind = lines::Kind::file;
        line.device = path;
    }
}

ExitCode run_station(const ConfigOptions& config, service::Options request, const std::string& lines_log) {
    using HangUp = service::Signals::HangUp;
    const service::Signals signals(request.keys ? HangUp::stops : HangUp::reloads);  // before any thread
    const auto loaded = load_or_tell(config);
    if (!loaded) return ExitCode::refused;
    request.settings = loaded->settings;
    check_files(request, lines_log, config.file);
    if (!lines_log.empty()) use_file_lines(request.settings.lines, lines_log);
    if (!config.file.empty()) request.settings_file = std::filesystem::absolute(config.file).string();
    request.reload = [config, lines_log](const config::Overlays& set) { return reload(config, lines_log, set); };
    const std::string begins = request.recording      ? "playing " + request.recording->file.string() + " as if live; the lines are logged to " + lines_log
                               : request.print_keying ? awaited_text(request.settings.audio.device)
                                                      : "";
    service::Service service(std::move(request), signals);  // refuses beside another station
    if (!begins.empty()) std::cout << begins << std::endl;
    return static_cast<ExitCode>(service.run());
}

}  // namespace tripline::cli
