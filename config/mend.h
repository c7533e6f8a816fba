// Takes a line that is not TOML out of the way of those after it.
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace tripline::config {

using IsTable = std::function<bool(std::string_view name)>;

/// The `line`th of the text, from 1; the others stay in their places. A key with its value is emptied, as words without any
/// sign of TOML are; the name in a table's broken brackets is kept as a table's, as a table's name without brackets is. A table
/// whose brackets are whole can only be given a second time; if `again`, it is kept as one, and one without a name too (see
/// table_header.h).
/// False for anything else, a value of many lines among them: the lines after it would be misread.
bool mend_line(std::string& text, unsigned line, const IsTable& is_table, bool again);

}  // namespace tripline::config
