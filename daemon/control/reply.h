// The answer to a request, whichever way it came.
#pragma once

#include "daemon/control/desk.h"

#include <string>

namespace tripline::control {

/// A line of JSON, without its end. Any thread but the service's; waits for the service where
/// something changes.
std::string reply(Desk& desk, const Request& request, const std::string& by);

}  // namespace tripline::control
