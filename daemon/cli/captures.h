// Has the black box of a running station write what it keeps, and finds a moment in that.
#pragma once

#include "daemon/cli/desk_options.h"
#include "daemon/logbook/over.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace tripline::cli {

/// A recording that a station made of itself. Its settings lie beside it, and perhaps its memory.
struct Written {
    std::filesystem::path sound;
    logbook::WallTime began{};
    logbook::WallTime ended{};

    std::filesystem::path beside(const char* extension) const { return std::filesystem::path(sound).replace_extension(extension); }
};

/// Refuses a moment before all that the station keeps, and asks for nothing then. Throws std::runtime_error as covering() does.
void refuse_forgotten(const DeskOptions& options, logbook::WallTime at);

/// Asks for a capture and waits until it is written, at most two minutes. One file, or two after new settings,
/// the older first. Throws std::runtime_error, as ask() does, or with why nothing was written.
std::vector<Written> capture(const DeskOptions& options);

/// The last such time of day (UTC) up to `now`: "21:14", "21:14:03", "21:14:03.5"; nothing for anything else.
std::optional<logbook::WallTime> last_time_of_day(const std::string& text, logbook::WallTime now);

/// The one in which the time lies. Throws std::runtime_error that tells what is kept.
const Written& covering(const std::vector<Written>& written, logbook::WallTime at);

}  // namespace tripline::cli
