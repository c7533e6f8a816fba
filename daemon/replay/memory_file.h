// What the station remembered when a recording of the black box begins.
#pragma once

#include "dsp/units.h"

#include <cstddef>
#include <filesystem>
#include <vector>

namespace tripline::replay {

/// As text: this version of the program, the rate, the bytes in hexadecimal.
std::string memory_text(Hertz rate, const std::vector<std::byte>& bytes);

/// Throws std::runtime_error naming the file when it is not such a text, or of another version of
/// the program, which would remember other things, or of another rate.
std::vector<std::byte> read_memory(const std::filesystem::path& file, Hertz rate);

}  // namespace tripline::replay
