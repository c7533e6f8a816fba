// The files of a run, looked at before anything starts.
#pragma once

#include "daemon/service/options.h"

#include <string>

namespace tripline::cli {

/// Throws std::runtime_error "file: reason" when the recording cannot be played, when a file
/// to be written is the recording itself or another of them, or cannot be written.
/// `lines_log` may be empty.
void check_files(const service::Options& request, const std::string& lines_log);

}  // namespace tripline::cli
