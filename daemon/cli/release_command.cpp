// release: what is left to do when the daemon and the guard are both gone.
#include "daemon/cli/commands.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/installed_settings.h"
#include "daemon/cli/sound_wiring.h"
#include "daemon/lines/release.h"

#include <CLI/CLI.hpp>

#include <array>
#include <iostream>
#include <memory>

namespace tripline::cli {
namespace {

void tell_line(lines::Role role, const std::string& failure) {
    if (failure.empty()) {
        std::cout << "line." << name(role) << " released" << std::endl;
    } else {
        std::cerr << "line." << name(role) << " NOT released: " << failure << '\n';
    }
}

config::Problems mistakes(config::Problems problems) {
    std::erase_if(problems, [](const auto& p) { return p.severity == config::Severity::note; });
    return problems;
}

/// A line each for what may not be touched; true if there is any.
bool tell_left_out(const SoundWiring& sound) {
    bool any = false;
    for (const auto role : lines::all_roles) {
        const auto& reason = sound.reasons[index(role)];
        if (reason.empty()) continue;
        tell_line(role, reason);
        any = true;
    }
    return any;
}

/// A mistake elsewhere in the file is no reason to leave a line as it is.
ExitCode release(const ConfigOptions& options) {
    const auto loaded = load(or_installed(options));
    const auto sound = sound_wiring(loaded);
    const auto released = lines::release_all(sound.wiring);
    tell(mistakes(loaded.problems));
    for (const auto& line : released) tell_line(line.role, line.failure);
    const bool left_out = tell_left_out(sound);
    if (released.empty() && !left_out) std::cerr << "no line is configured: nothing was released\n";
    const bool good = !released.empty() && all_at_rest(released) && loaded.good();
    return good ? ExitCode::good : ExitCode::refused;
}

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "Every configured line is at rest."},
    ExitCodeText{ExitCode::refused,
                 "A line was not released, none is configured, or the configuration is wrong."}};

}  // namespace

void add_release(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "release", "Drive every line to rest, for when the daemon and its guard are both gone");
    const auto options = std::make_shared<ConfigOptions>();
    add_config_options(*command, *options);
    command->get_option("--config")
        ->description(std::string("Configuration file; without it, ") + installed_settings);
    command->footer(exit_status_text(statuses));
    command->callback([options, &outcome] { outcome = release(*options); });
}

}  // namespace tripline::cli
