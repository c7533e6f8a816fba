// A replay in one line.
#pragma once

#include "daemon/replay/report.h"

#include <string>

namespace tripline::picture {

/// Length, transmissions and, with a score, the mistakes.
std::string summary(const replay::Result& result);

}  // namespace tripline::picture
