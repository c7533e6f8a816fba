// Settings written into an existing file.
#pragma once

#include "config/load.h"

#include <filesystem>
#include <string>

namespace tripline::config {

/// Writes these settings, "key=value" as for --set, into the file, which keeps its comments. All
/// or nothing: the new text goes to a file beside it that then takes its place, and only when it
/// reads back as meant. What went wrong, or empty. Waits for the disk.
std::string save(const std::filesystem::path& file, const Overlays& overlays);

}  // namespace tripline::config
