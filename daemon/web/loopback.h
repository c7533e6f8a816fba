// Addresses of this computer itself.
#pragma once

#include <string>

namespace tripline::web {

inline bool is_loopback(const std::string& address) { return address.starts_with("127.") || address == "::1"; }

}  // namespace tripline::web
