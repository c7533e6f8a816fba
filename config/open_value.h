// A value of many lines that does not end where it should.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace tripline::config {

/// Offset of the text in three quotes, the list or the table in braces that is still open at the end of whole lines; the
/// outermost one. The lines are TOML but for that.
std::optional<std::size_t> left_open(std::string_view lines);

/// Offset past the line, or the lines of its value, that begin at `at`; one that is not closed goes on to the text's end.
std::size_t past_lines(std::string_view text, std::size_t at);

}  // namespace tripline::config
