// What an operator meant who wrote something else.
#pragma once

#include "config/key.h"

#include <string>
#include <string_view>

namespace tripline::config {

/// A key or table near to a path that is neither; or empty.
std::string suggest_path(std::string_view path, bool table);

/// The tables that may stand where an unknown one does, if these are few: those of the lines; or empty.
std::string allowed_tables(std::string_view path);

/// What may be written, given the keys before this one: the pins of the line's own kind.
std::string allowed_here(const Key& key, const Settings& settings);

/// What would do in place of a value that is refused: a choice near to it, the same word in
/// small letters, the number that stands between quotes, in the key's own unit; or empty. `settings` as in check().
std::string suggest_value(const Key& key, const Settings& settings, const Value& value);

}  // namespace tripline::config
