// The keys as a chapter of the manual.
#pragma once

#include <string>

namespace tripline::config {

/// Markdown: a table for each section.
std::string key_reference();

}  // namespace tripline::config
