#include "daemon/cli/run_files.h"

#include "daemon/lines/descriptor.h"
#include "daemon/lines/file_log.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <stdexcept>
#include <vector>

namespace tripline::cli {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& file, const std::string& reason) {
    throw std::runtime_error(file + ": " + reason);
}

bool same_file(const fs::path& a, const fs::path& b) {
    std::error_code error;
    if (fs::is_character_file(a, error)) return false;  // /dev/null, a terminal: nothing is lost
    if (fs::equivalent(a, b, error)) return true;
    return fs::weakly_canonical(a, error) == fs::weakly_canonical(b, error);
}

/// What is there is opened, not changed; what is not there is not made.
void check_writable(const std::string& file) {
    std::error_code error;
    if (fs::is_directory(file, error)) refuse(file, std::strerror(EISDIR));
    if (fs::exists(file, error)) {
        const lines::Descriptor opened(::open(file.c_str(), O_WRONLY | O_APPEND | O_CLOEXEC | O_NOCTTY | O_NONBLOCK));
        if (!opened) refuse(file, std::string("cannot be written: ") + std::strerror(errno));
        return;
    }
    const fs::path folder = fs::path(file).parent_path();
    if (::access(folder.empty() ? "." : folder.c_str(), W_OK | X_OK) == 0) return;
    refuse(file, std::string("cannot be written: its folder: ") + std::strerror(errno));
}

/// Opened anew, the source is recorded to the next number: none may be what is played.
void check_numbers(const std::string& record_to, const std::string& played) {
    constexpr unsigned looked_at = 100;
    for (unsigned number = 1; number <= looked_at; ++number) {
        if (same_file(service::numbered(record_to, number), played)) {
            refuse(record_to, "would overwrite a file that is read");
        }
    }
}

}  // namespace

void check_files(const service::Options& request, const std::string& lines_log,
                 const std::string& settings_file) {
    std::vector<std::string> kept;
    if (!settings_file.empty()) kept.push_back(settings_file);
    if (request.recording) {
        const replay::Recording readable(replay::for_station(*request.recording, request.settings.audio.receiver_channel));
        kept.push_back(request.recording->file.string());
        if (!request.recording->monitor.empty()) kept.push_back(request.recording->monitor.string());
    }
    if (!request.record_to.empty()) {
        for (const std::string& played : kept) check_numbers(request.record_to, played);
    }
    for (const std::string& file : {request.record_to, request.events_to, lines_log}) {
        if (file.empty()) continue;
        for (const std::string& other : kept) {
            if (same_file(file, other)) refuse(file, "is named twice: it would be overwritten");
        }
        check_writable(file);
        kept.push_back(file);
    }
    if (const std::string unfit = lines::unfit_for_log(lines_log); !unfit.empty()) refuse(lines_log, unfit);
}

}  // namespace tripline::cli
