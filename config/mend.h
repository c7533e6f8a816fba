// Takes a line that is not TOML out of the way of those after it.
#pragma once

#include <string>

namespace tripline::config {

/// The `line`th of the text, from 1; the others stay in their places. A key with its value is emptied, as words without any
/// sign of TOML are; the name in a table's broken brackets is kept as a table's. False for anything else: the lines after
/// it would be misread.
bool mend_line(std::string& text, unsigned line);

}  // namespace tripline::config
