// The command line of triplined.
#pragma once

#include "daemon/cli/config_options.h"
#include "daemon/service/options.h"

#include <memory>

namespace tripline::cli {

struct DaemonOptions {
    ConfigOptions config;
    service::Options request;
};

/// `options` must live as long as the program.
std::shared_ptr<CLI::App> make_daemon_program(DaemonOptions& options);

/// The exit code of the process.
int run_daemon(int argc, const char* const* argv);

}  // namespace tripline::cli
