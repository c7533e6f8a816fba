// The plan as the guard's command line and back. One argument a role, in the order of
// all_roles: KIND,PIN,ACTIVE_HIGH,DEVICE; then one of all times (ns) and the priority.
#pragma once

#include "daemon/guard/plan.h"

#include <span>
#include <string>
#include <vector>

namespace tripline::guard {

/// For the daemon. Reads them back as the guard will. Throws std::invalid_argument for a value
/// out of range (see check()) or a plan that would not come across.
std::vector<std::string> to_arguments(const Plan& plan);

/// For the guard. Throws std::invalid_argument naming what is wrong.
Plan from_arguments(std::span<const char* const> arguments);

}  // namespace tripline::guard
