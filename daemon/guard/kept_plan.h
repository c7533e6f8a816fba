// The plan in force, kept on disk for `tripline release`: the settings file may have changed
// since the daemon read it.
#pragma once

#include "daemon/guard/plan.h"

#include <optional>
#include <string>

namespace tripline::guard {

/// Folder in which the service manager lets the daemon keep state ($STATE_DIRECTORY); empty: none.
std::string state_folder();

/// Writes the plan into `folder`, whole or not at all (rename). Throws std::system_error.
void keep_plan(const Plan& plan, const std::string& folder);

/// The plan kept in `folder`; none when there is no such file. Throws std::runtime_error, naming
/// the file, when it cannot be read or makes no sense.
std::optional<Plan> kept_plan(const std::string& folder);

}  // namespace tripline::guard
