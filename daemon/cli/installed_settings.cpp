#include "daemon/cli/installed_settings.h"

#include <filesystem>

namespace tripline::cli {

ConfigOptions or_installed(ConfigOptions options, const std::string& installed) {
    namespace fs = std::filesystem;
    std::error_code unreadable;  // then it exists, and loading tells why it can't be read
    const auto type = fs::status(installed, unreadable).type();
    if (options.file.empty() && type != fs::file_type::not_found) options.file = installed;
    return options;
}

}  // namespace tripline::cli
