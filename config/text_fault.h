// What makes bytes unfit to be parsed at all.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace tripline::config {

/// Text longer than this, or with a longer line, is refused: it keeps the work and the depth
/// of nested tables bounded.
inline constexpr std::size_t longest_file = 256 * 1024;
inline constexpr std::size_t longest_line = 2048;

struct TextFault {
    int line = 1;    ///< from 1
    int column = 1;  ///< in bytes, from 1
    std::string what;
};

/// The fault at a byte of the text.
TextFault fault_at(std::string_view text, std::size_t offset, std::string what);

/// Too long, a line too long, or not UTF-8.
std::optional<TextFault> find_text_fault(std::string_view text);

}  // namespace tripline::config
