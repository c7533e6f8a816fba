#include "daemon/cli/daemon_program.h"

#include "daemon/cli/exit_status.h"
#include "daemon/cli/program.h"
#include "daemon/cli/run_station.h"
#include "daemon/cli/usage_hint.h"
#include "tripline/version.h"

#include <CLI/CLI.hpp>

#include <iostream>

namespace tripline::cli {
namespace {

constexpr auto about =
    "Hands-free keying for a push-to-talk radio station: the daemon. Stays in the foreground.";

}  // namespace

std::shared_ptr<CLI::App> make_daemon_program(DaemonOptions& options) {
    auto program = std::make_shared<CLI::App>(about, "triplined");
    program->set_version_flag("--version", std::string("triplined ") + version);
    program->footer(exit_status_text(exit_codes));
    add_config_options(*program, options.config);
    program->add_option("--record", options.request.record_to, "Record the samples received (WAV)")
        ->type_name("FILE");
    program->add_option("--events", options.request.events_to, "Write the events (JSON lines)")
        ->type_name("FILE");
    return program;
}

int run_daemon(int argc, const char* const* argv) {
    DaemonOptions options;
    const auto program = make_daemon_program(options);
    try {
        program->parse(argc, argv);
        return static_cast<int>(run_station(options.config, std::move(options.request), {}));
    } catch (const CLI::Success& help) {
        return program->exit(help);
    } catch (const CLI::Error& error) {
        std::cerr << usage_hint(*program, error);
    } catch (const std::exception& error) {
        std::cerr << "triplined: " << error.what() << '\n';
    }
    return static_cast<int>(ExitCode::refused);
}

}  // namespace tripline::cli
