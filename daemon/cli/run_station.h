// The station in this process until it is told to stop: what `tripline run` and
// triplined have in common.
#pragma once

#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_codes.h"
#include "daemon/service/options.h"

namespace tripline::cli {

/// Where the file lines of a played recording go when nothing is said.
inline constexpr auto default_lines_log = "tripline-lines.log";

/// Every wired role, and the key at least, becomes a file line that logs to `path`: a
/// played recording must never reach a transmitter.
void use_file_lines(lines::Wiring& wiring, const std::string& path);

/// What a station with live sound waits for, where this device is named or none (empty).
std::string awaited_text(const std::string& device);

/// Loads the settings, runs the station, reloads at SIGHUP, which ends a station of a terminal. `request` says the rest;
/// its settings and reload are filled in here. A recording is told of on standard output once it is seen to be there. `lines_log` not empty: use_file_lines().
/// Throws as check_files() does.
ExitCode run_station(const ConfigOptions& config, service::Options request, const std::string& lines_log);

}  // namespace tripline::cli
