// The operator's tool as one tree of commands. The manual pages and the completions are made
// from it, so they can't differ from --help.
#pragma once

#include "daemon/cli/exit_codes.h"

#include <memory>

namespace CLI {
class App;
}

namespace tripline::cli {

/// `outcome` must live as long as the program.
std::shared_ptr<CLI::App> make_program(ExitCode& outcome);

/// The exit code of the process. Usage errors go to standard error with a hint.
int run_program(int argc, const char* const* argv);

}  // namespace tripline::cli
