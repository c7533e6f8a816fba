// What an operator meant who wrote something else.
#pragma once

#include "config/key.h"

#include <string>
#include <string_view>

namespace tripline::config {

/// A key or table near to a path that is neither; or empty.
std::string suggest_path(std::string_view path, bool table);

/// A choice near to a value; or empty.
std::string suggest_choice(const Key& key, const Value& value);

}  // namespace tripline::config
