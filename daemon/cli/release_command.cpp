// release: what is left to do when the daemon and the guard are both gone.
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/sound_wiring.h"
#include "daemon/lines/release.h"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace tripline::cli {
namespace {

/// A mistake elsewhere in the file is no reason to leave a line as it is.
ExitCode release(const ConfigOptions& options) {
    const auto loaded = load(options);
    tell(loaded.problems);
    const auto failures = lines::release_all(sound_wiring(loaded));
    for (const auto& failure : failures) std::cerr << failure << '\n';
    return failures.empty() && loaded.good() ? ExitCode::good : ExitCode::refused;
}

}  // namespace

void add_release(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "release", "Drive every line to rest, for when the daemon and its guard are both gone");
    const auto options = std::make_shared<ConfigOptions>();
    add_config_options(*command, *options);
    command->callback([options, &outcome] { outcome = release(*options); });
}

}  // namespace tripline::cli
