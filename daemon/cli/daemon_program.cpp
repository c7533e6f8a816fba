#include "daemon/cli/daemon_program.h"

#include "daemon/cli/run_station.h"
#include "tripline/version.h"

#include <CLI/CLI.hpp>

#include <iostream>

namespace tripline::cli {

namespace {

struct DaemonOptions {
    ConfigOptions config;
    service::Options request;
};

void describe(CLI::App& app, DaemonOptions& options) {
    app.set_version_flag("--version", std::string("triplined ") + version);
    add_config_options(app, options.config);
    app.add_option("--record", options.request.record_to, "Record the samples received (WAV)")->type_name("FILE");
    app.add_option("--events", options.request.events_to, "Write the events (JSON lines)")->type_name("FILE");
}

}  // namespace

int run_daemon(int argc, const char* const* argv) {
    CLI::App app("Hands-free keying for a push-to-talk radio station: the daemon. Stays in the foreground.",
                 "triplined");
    DaemonOptions options;
    describe(app, options);
    try {
        app.parse(argc, argv);
        return static_cast<int>(run_station(options.config, std::move(options.request), {}));
    } catch (const CLI::Success& help) {
        return app.exit(help);
    } catch (const std::exception& error) {
        std::cerr << "triplined: " << error.what() << '\n';
        return static_cast<int>(ExitCode::refused);
    }
}

}  // namespace tripline::cli
