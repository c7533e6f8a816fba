// A small regular file as text.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

namespace tripline::config {

struct FileText {
    std::string content;
    std::string error;  ///< why it can't be read, or empty
};

/// Reads at most one byte more than `most`. A directory, pipe or device is refused, so it
/// never waits.
FileText read_file_text(const std::filesystem::path& file, std::size_t most);

}  // namespace tripline::config
