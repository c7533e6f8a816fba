// The files of a run, looked at before anything starts.
#pragma once

#include "daemon/service/options.h"

#include <string>

namespace tripline::cli {

/// Throws std::runtime_error "file: reason" when the recording cannot be played, when a file
/// to be written is the recording itself, the settings file or another of them, or cannot be written.
/// `lines_log` and `settings_file` may be empty.
void check_files(const service::Options& request, const std::string& lines_log,
                 const std::string& settings_file);

}  // namespace tripline::cli
