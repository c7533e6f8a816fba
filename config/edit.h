// One value of a TOML text changed in place: comments, order and the rest stay as they are.
#pragma once

#include <string>
#include <string_view>

namespace tripline::config {

/// `value` is TOML. A key that is not there goes beside one of its table that is written with the table's
/// name, else under its table's header, or with a new table to the end. Works on values of one line; whoever writes the outcome checks it by reading it.
std::string with_value(std::string_view text, std::string_view path, std::string_view value);

}  // namespace tripline::config
