// The daemon's own settings, for commands that stand in for it.
#pragma once

#include "daemon/cli/config_options.h"

namespace tripline::cli {

/// Where the package puts them.
inline constexpr auto installed_settings = "/etc/tripline/tripline.toml";

/// The options; without a file, with the installed one when it exists.
ConfigOptions or_installed(ConfigOptions options, const std::string& installed = installed_settings);

}  // namespace tripline::cli
