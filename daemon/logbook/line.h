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
/// {"mark":12,"as":"wrong"}: added later, since nothing in the log is ever changed.
std::string mark_line(std::uint64_t over);

/// The overs of a log's text, each with its marks, in order. Lines that are neither are left
/// out and counted in `strange`.
std::vector<Over> read_overs(std::string_view text, std::size_t& strange);

inline constexpr auto csv_head = "over,began,length_s,keyed_by,ended_by,peak_dbfs,wrong";
/// RFC 4180; no field here needs quotes.
std::string csv_line(const Over& over);

/// One line for the operator.
std::string over_text(const Over& over);

/// "2026-11-25T17:03:12.345Z", ISO 8601.
std::string time_text(WallTime time);

}  // namespace tripline::logbook
