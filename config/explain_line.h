// What is often meant by a line that is not TOML.
#pragma once

#include "config/problem.h"
#include "config/reader.h"

#include <string>

namespace tripline::config {

/// Names the key or the table of the problem's line, if that can be told, and what was meant.
void explain_line(Problem& problem, const std::string& text, const Find& find);

}  // namespace tripline::config
