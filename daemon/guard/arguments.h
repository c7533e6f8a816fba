// The plan as the guard's command line and back. One argument a role, in the order of
// all_roles: KIND,PIN,ACTIVE_HIGH,DEVICE; then one of all times (ns) and the priority.
#pragma once

#include "daemon/guard/plan.h"

#include <span>
#include <string>
#include <vector>

namespace tripline::guard {

/// Throws std::invalid_argument for a value out of range (see check()).
std::vector<std::string> to_arguments(const Plan& plan);

/// Throws std::invalid_argument naming the argument that is wrong.
Plan from_arguments(std::span<const char* const> arguments);

/// Throws std::invalid_argument: longest 1 s to 2 h, silence 50 ms to 250 ms, alive_period
/// 100 ms to 1 s, lead and lag 0 to 1 s, priority 0 to 99, pins in range.
void check(const Plan& plan);

}  // namespace tripline::guard
