// Characters where TOML allows only ASCII.
#pragma once

#include <cstddef>
#include <string_view>

namespace tripline::config {

/// Offset of the first byte above 127 that is neither between quotes nor in a comment nor part of
/// a byte order mark at the start: TOML 1.0 allows none there. The size of the text if there is none.
std::size_t first_beyond_ascii(std::string_view text);

/// Offset past the string whose first quote is at `at`. One of a single line that is not closed ends with its line; one of
/// many lines, with the text.
std::size_t past_string(std::string_view text, std::size_t at);

}  // namespace tripline::config
