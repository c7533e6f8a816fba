// Whose a socket's file is, for those who may not connect to it.
#pragma once

#include <string>

namespace tripline::control {

/// "; it belongs to mary"; empty where it is one's own, or is not there.
std::string whose(const std::string& path);

}  // namespace tripline::control
