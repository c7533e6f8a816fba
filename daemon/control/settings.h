// Where the station can be seen and steered from.
#pragma once

#include <string>

namespace tripline::control {

struct Settings {
    std::string socket;  ///< path; empty: in the service's own runtime folder, if it has one; "none": no socket
};

/// The one in force; empty: none. `runtime_folder`: what the service manager made, or empty.
inline std::string socket_path(const Settings& settings, const std::string& runtime_folder) {
    if (settings.socket == "none") return {};
    if (!settings.socket.empty()) return settings.socket;
    return runtime_folder.empty() ? std::string() : runtime_folder + "/control.sock";
}

/// Where the operator's tool looks when nothing is said: the installed service's.
inline constexpr auto installed_socket = "/run/tripline/control.sock";

}  // namespace tripline::control
