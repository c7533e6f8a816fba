// Another station at the control socket that this one is to have.
#pragma once

#include <string>

namespace tripline::control {

/// At start-up. Throws std::runtime_error when somebody answers at `path`, saying which process that is and with which
/// settings, as far as it is known within half a second: a second station there could not be made safe by
/// `tripline safe`. An empty path, or nobody: nothing.
void refuse_beside_another(const std::string& path);

}  // namespace tripline::control
