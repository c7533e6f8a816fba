// An over as a line of JSON in the station's log, as a line of CSV, and back.
#pragma once

#include "daemon/logbook/over.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tripline::logbook {

/// {"over":12,"began":"2026-11-25T17:03:12.345Z","length_s":4.213,...}
std::string over_line(const Over& over);
/// {"mark":12,"as":"false"}: added later, since nothing in the log is ever changed.
std::string mark_line(std::uint64_t over, Mark mark);
/// {"missed":"2026-11-25T17:03:12.345Z"}
std::string missed_line(WallTime at);

struct Log {
    std::vector<Over> overs;          ///< each with its last mark, in order
    std::vector<WallTime> missed;     ///< in order
    std::size_t strange = 0;          ///< lines that are neither, left out
};

Log read_log(std::string_view text);

inline constexpr auto csv_head = "over,began,length_s,keyed_by,ended_by,peak_dbfs,mark";
/// RFC 4180; no field here needs quotes.
std::string csv_line(const Over& over);
std::string csv_line(WallTime missed);

/// One line for the operator.
std::string over_text(const Over& over);
std::string missed_text(WallTime at);

/// "2026-11-25T17:03:12.345Z", ISO 8601.
std::string time_text(WallTime time);
/// Its inverse; nothing for any other text.
std::optional<WallTime> time_of(const std::string& text);

}  // namespace tripline::logbook
