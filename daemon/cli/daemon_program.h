// The command line of triplined.
#pragma once

namespace tripline::cli {

/// The exit code of the process.
int run_daemon(int argc, const char* const* argv);

}  // namespace tripline::cli
