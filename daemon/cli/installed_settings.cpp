#include "daemon/cli/installed_settings.h"

#include "daemon/guard/kept_plan.h"

#include <filesystem>

namespace tripline::cli {

ConfigOptions or_installed(ConfigOptions options, const std::string& installed) {
    namespace fs = std::filesystem;
    std::error_code unreadable;  // then it exists, and loading tells why it can't be read
    const auto type = fs::status(installed, unreadable).type();
    if (options.file.empty() && type != fs::file_type::not_found) options.file = installed;
    return options;
}

std::string state_folder(const ConfigOptions& options) {
    const std::string given = guard::state_folder();
    const bool another = !options.file.empty() && options.file != installed_settings;
    return given.empty() && !another && options.overlays.empty() ? installed_state : given;
}

}  // namespace tripline::cli
