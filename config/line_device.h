// Rules of the path that one line is given.
#pragma once

#include "config/findings.h"

namespace tripline::config {

/// `table` is "line.ptt".
void check_line_device(const lines::LineSettings& wire, const std::string& table, Findings& found);

}  // namespace tripline::config
