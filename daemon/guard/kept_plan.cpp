#include "daemon/guard/kept_plan.h"

#include "daemon/guard/arguments.h"
#include "daemon/lines/descriptor.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <system_error>

namespace tripline::guard {
namespace {

std::string path_in(const std::string& folder) { return folder + "/lines-in-force"; }

void require(bool done, const std::string& path) {
    if (!done) throw std::system_error(errno, std::generic_category(), path);
}

/// A text a line: no device has a line break in its name (see the checks of the settings).
std::string text_of(const Plan& plan) {
    std::string text;
    for (const std::string& argument : to_arguments(plan)) text += argument + '\n';
    return text;
}

void write_durably(const std::string& path, const std::string& text) {
    const lines::Descriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0640));
    require(bool(file), path);
    const ssize_t written = ::write(file.get(), text.data(), text.size());
    if (written >= 0 && written < static_cast<ssize_t>(text.size())) errno = ENOSPC;
    require(written == static_cast<ssize_t>(text.size()) && ::fsync(file.get()) == 0, path);
}

}  // namespace

std::string state_folder() {
    const char* folders = std::getenv("STATE_DIRECTORY");
    const std::string all = folders ? folders : "";
    return all.substr(0, all.find(':'));
}

void keep_plan(const Plan& plan, const std::string& folder) {
    const std::string path = path_in(folder), fresh = path + ".new";
    try {
        write_durably(fresh, text_of(plan));
        require(::rename(fresh.c_str(), path.c_str()) == 0, path);
    } catch (const std::system_error&) {
        forget_plan(folder);
        throw;
    }
}

void forget_plan(const std::string& folder) noexcept {
    if (!folder.empty()) ::unlink(path_in(folder).c_str());
}

std::optional<Plan> kept_plan(const std::string& folder) {
    const std::string path = path_in(folder);
    struct stat status{};
    if (::stat(path.c_str(), &status) != 0 && errno == ENOENT) return std::nullopt;
    std::ifstream file(path);
    std::vector<std::string> texts;
    for (std::string text; texts.size() < 16 && std::getline(file, text);) texts.push_back(text);
    std::vector<const char*> arguments;
    for (const std::string& text : texts) arguments.push_back(text.c_str());
    try {
        return from_arguments(arguments);
    } catch (const std::invalid_argument& error) {
        throw std::runtime_error(path + ": " + error.what());
    }
}

}  // namespace tripline::guard
