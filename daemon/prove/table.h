// The outcome of a suite as plain text.
#pragma once

#include "daemon/prove/comparison.h"
#include "daemon/prove/verdict.h"

#include <string>
#include <vector>

namespace tripline::prove {

/// A row a recording in 80 columns, then a line for each limit broken, each recording that
/// could not be judged, and each change.
std::string to_table(const Verdicts& verdicts, const std::vector<Change>& changes);

}  // namespace tripline::prove
