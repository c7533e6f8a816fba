// A time on the command line.
#pragma once

#include "dsp/units.h"

#include <optional>
#include <string>

namespace tripline::cli {

/// "754.2" (seconds), "12:34.2" or "1:02:03"; nothing for anything else.
std::optional<Duration> time_in(const std::string& text);

}  // namespace tripline::cli
