// The manual pages, from the options and the keys that the programs themselves use.
#pragma once

#include "daemon/cli/outline.h"

#include <string>

namespace tripline::cli {

std::string tool_page(const CommandOutline& tool);      ///< tripline(1)
std::string daemon_page(const CommandOutline& daemon);  ///< triplined(8)
std::string settings_page();                            ///< tripline.toml(5)

}  // namespace tripline::cli
