// The plan in force, kept on disk for `tripline release`: the settings file may have changed
// since the daemon read it.
#pragma once

#include "daemon/guard/plan.h"

#include <optional>
#include <string>

namespace tripline::guard {

/// Folder in which the service manager lets the daemon keep state ($STATE_DIRECTORY); empty: none.
std::string state_folder();

/// Writes the plan into `folder`, whole or not at all (rename). Throws std::system_error; then
/// none is kept, since one from before might rest a line at the wrong level.
void keep_plan(const Plan& plan, const std::string& folder);

/// For when every line is at rest: whoever changes the wiring now is not to meet the old one. An
/// empty `folder`: nothing.
void forget_plan(const std::string& folder) noexcept;

/// The plan kept in `folder`; none when there is no such file. Throws std::runtime_error, naming
/// the file, when it cannot be read or makes no sense.
std::optional<Plan> kept_plan(const std::string& folder);

}  // namespace tripline::guard
