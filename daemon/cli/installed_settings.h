// The daemon's own settings, for commands that stand in for it.
#pragma once

#include "daemon/cli/config_options.h"

namespace tripline::cli {

/// Where the package puts them.
inline constexpr auto installed_settings = "/etc/tripline/tripline.toml";

/// The options; without a file, with the installed one when it exists.
ConfigOptions or_installed(ConfigOptions options, const std::string& installed = installed_settings);

/// Where the installed daemon keeps the wiring in force.
inline constexpr auto installed_state = "/var/lib/tripline";

/// Where the daemon that these options stand for keeps it: the service manager's word, else the
/// installed place unless other settings are named. Empty: nowhere.
std::string state_folder(const ConfigOptions& options);

}  // namespace tripline::cli
