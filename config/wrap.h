// Text broken at spaces.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace tripline::config {

/// Lines of at most `width` bytes where the words allow it, each with `prefix` before it and
/// a newline after it.
std::string wrap(std::string_view text, std::string_view prefix, std::size_t width);

}  // namespace tripline::config
