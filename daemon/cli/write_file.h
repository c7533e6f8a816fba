// A whole file at once.
#pragma once

#include <string>

namespace tripline::cli {

/// Throws std::runtime_error "file: cannot be written".
void write_file(const std::string& path, const std::string& text);

}  // namespace tripline::cli
