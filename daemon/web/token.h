// The secret that lets a page change the station.
#pragma once

#include <string>

namespace tripline::web {

/// 192 random bits in text. Throws std::system_error.
std::string make_token();

/// The first line of the file, at least 16 characters of letters, digits, '-' and '_'. Throws
/// std::runtime_error that names the file, also when everybody may read it.
std::string read_token(const std::string& file);

}  // namespace tripline::web
