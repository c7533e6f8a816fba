#include "daemon/black_box/folder.h"

#include <unistd.h>

#include <cerrno>
#include <system_error>

namespace tripline::black_box {

std::string unfit(const std::filesystem::path& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (!error && !std::filesystem::is_directory(folder, error) && !error) error = std::make_error_code(std::errc::not_a_directory);
    if (!error && ::access(folder.c_str(), W_OK | X_OK) != 0) error = {errno, std::generic_category()};
    return error ? folder.string() + ": " + error.message() : std::string();
}

}  // namespace tripline::black_box
