// The name between a table's brackets, also where they are broken.
#pragma once

#include <string>
#include <string_view>

namespace tripline::config {

/// Of a line that begins with '[': "line.ptt" of `[line."ptt"] # key`, of "[line.ptt" and of "[line.ptt]]"; empty if it can't be told.
std::string table_name(std::string_view line);
/// Of "[two words]": of which name it is, can't be told.
bool is_of_words(std::string_view line);

/// Where a table that is given again is kept, each below the number of its line, since TOML refuses it.
inline constexpr std::string_view given_again = "given-again";
/// Stands below given_again for a table whose name can't be told.
inline constexpr std::string_view nameless = "?";

/// The header with given_again and its line before its name.
std::string header_given_again(std::string_view header, std::string_view line);
std::string nameless_header(std::string_view line);
bool is_given_again(std::string_view line);

}  // namespace tripline::config
