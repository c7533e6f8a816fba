// Characters where TOML allows only ASCII.
#pragma once

#include <cstddef>
#include <string_view>

namespace tripline::config {

/// Offset of the first byte above 127 that is neither between quotes nor in a comment nor part of
/// a byte order mark at the start: TOML 1.0 allows none there. The size of the text if there is none.
std::size_t first_beyond_ascii(std::string_view text);

}  // namespace tripline::config
