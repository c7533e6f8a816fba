// The commands of the operator's tool, a file each. Each function adds its command to the
// program; when the operator picks it, it runs and leaves its outcome in `outcome`.
// Nothing runs, and nothing is opened, before all of the command line has been understood.
#pragma once

#include "daemon/cli/exit_codes.h"

namespace CLI {
class App;
}

namespace tripline::cli {

void add_config(CLI::App& program, ExitCode& outcome);   ///< config check, config show
void add_desk(CLI::App& program, ExitCode& outcome);     ///< status, arm, safe, key, set ...: a running station
void add_devices(CLI::App& program, ExitCode& outcome);  ///< the sound devices and their names
void add_explain(CLI::App& program, ExitCode& outcome);  ///< why it keyed, or did not
void add_help(CLI::App& program);                         ///< the same as --help
void add_inspect(CLI::App& program, ExitCode& outcome);  ///< the health of the inputs
void add_lines(CLI::App& program, ExitCode& outcome);    ///< try one line at a time
void add_prove(CLI::App& program, ExitCode& outcome);    ///< a folder of recordings against limits
void add_release(CLI::App& program, ExitCode& outcome);  ///< drive every line to rest
void add_replay(CLI::App& program, ExitCode& outcome);   ///< recordings through the station
void add_run(CLI::App& program, ExitCode& outcome);      ///< the station, live, in the terminal
void add_log(CLI::App& program, ExitCode& outcome);      ///< the overs of the station's log
void add_setup(CLI::App& program, ExitCode& outcome);    ///< settings from a measured recording
void add_tune(CLI::App& program, ExitCode& outcome);     ///< the most robust of many settings
void add_watch(CLI::App& program, ExitCode& outcome);    ///< a running station in the terminal

}  // namespace tripline::cli
