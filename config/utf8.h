// Is it UTF-8?
#pragma once

#include <cstddef>
#include <string_view>

namespace tripline::config {

/// Offset of the first byte that is not part of well-formed UTF-8 (Unicode 15, table 3-7);
/// the size of the text if all is.
std::size_t well_formed_utf8(std::string_view text);

}  // namespace tripline::config
