// Text with figures in it, as printf writes them.
#pragma once

#include <string>

namespace tripline {

/// Of any length. The compiler checks the arguments against the format.
[[gnu::format(printf, 1, 2)]] std::string print(const char* format, ...);

}  // namespace tripline
