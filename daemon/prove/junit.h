// The outcome of a suite for machines that collect test results.
#pragma once

#include "daemon/prove/comparison.h"
#include "daemon/prove/verdict.h"

#include <string>
#include <vector>

namespace tripline::prove {

/// JUnit's XML as test collectors read it: a testsuite a recording, a testcase a limit, and
/// one more, "baseline", when `compared`. A recording that could not be replayed is an error.
std::string to_junit(const Verdicts& verdicts, const std::vector<Change>& changes, bool compared);

}  // namespace tripline::prove
