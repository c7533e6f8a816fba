// A time on the command line.
#pragma once

#include "dsp/units.h"

#include <optional>
#include <string>

namespace tripline::cli {

/// "754.2" (seconds), "12:34.2" or "1:02:03"; nothing for anything else.
std::optional<Duration> time_in(const std::string& text);

/// How long the stretch is that "so long ago" means, about its middle: a tenth of that time, but a second at least, since
/// nobody remembers better. A time with a point in it means the moment itself: 0.
Duration exactness_of(const std::string& ago);

}  // namespace tripline::cli
