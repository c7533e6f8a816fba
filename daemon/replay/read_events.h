// A station's events, read back from their lines.
#pragma once

#include "daemon/station/event.h"

#include <filesystem>
#include <string>
#include <vector>

namespace tripline::replay {

/// What event_line() wrote, but for the levels. Throws std::runtime_error for anything else.
station::Event event_of(const std::string& line);

/// Those of a file, up to where the sound was opened anew and its frames are counted from the start again.
/// Throws std::runtime_error, naming file and line.
std::vector<station::Event> read_events(const std::filesystem::path& file);

}  // namespace tripline::replay
