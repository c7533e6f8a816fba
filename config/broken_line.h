// What an operator meant by a line that is not TOML.
#pragma once

#include <string>
#include <string_view>

namespace tripline::config {

struct BrokenLine {
    std::string_view text;  ///< without blanks around it
    std::string path;       ///< of its key, with the table it stands in; empty if that can't be told
    std::string value;      ///< what stands after '=', without a comment
};

/// The `line`th of the text, from 1; any bytes. What cannot be told is empty.
BrokenLine broken_line(std::string_view text, unsigned line);

/// The first line that has this path, as a key, as a table, or as the table of a key; 0: there is none.
unsigned line_of(std::string_view text, std::string_view path);

}  // namespace tripline::config
