// --across and --up of tune.
#pragma once

#include "daemon/tune/map.h"

#include <string>

namespace tripline::cli {

/// The values of KEY=FROM:TO:STEP, at most 100. Throws std::runtime_error that names the option and says what is allowed,
/// for text that is none, a key that there is not or that takes no number, and values out of its range.
tune::Axis axis_in(const std::string& option, const std::string& text);

}  // namespace tripline::cli
