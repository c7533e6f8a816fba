#include "config/save.h"

#include "config/edit.h"
#include "config/file_text.h"
#include "config/keys.h"
#include "config/text_fault.h"
#include "config/write.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

namespace tripline::config {
namespace {

namespace fs = std::filesystem;

bool write_all(int file, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return ::fsync(file) == 0;
}

/// Beside the file, then in its place, with its mode and, where it may be, its owner.
std::string replace(const fs::path& file, const std::string& text) {
    struct stat before{};
    if (::stat(file.c_str(), &before) != 0) return file.string() + ": " + std::strerror(errno);
    std::string beside = file.string() + ".XXXXXX";
    const int made = ::mkostemp(beside.data(), O_CLOEXEC);
    if (made < 0) return file.string() + ": its folder can't be written: " + std::strerror(errno);
    ::fchmod(made, before.st_mode & 07777U);
    const bool given = ::fchown(made, before.st_uid, before.st_gid) == 0 || before.st_uid == ::geteuid();
    const bool written = write_all(made, text);
    const int error = errno;
    ::close(made);
    if (!written || !given || ::rename(beside.c_str(), file.c_str()) != 0) {
        const int why = !written ? error : !given ? EPERM : errno;
        ::unlink(beside.c_str());
        return file.string() + ": not written: " + std::strerror(why);
    }
    return {};
}

std::string edited(std::string text, const Overlays& overlays) {
    const Loaded wanted = load_defaults(overlays);
    for (const auto& [path, origin] : wanted.origins) {
        text = with_value(text, path, to_toml(find_key(path)->read(wanted.settings)));
    }
    return text;
}

}  // namespace

std::string save(const fs::path& file, const Overlays& overlays) {
    std::error_code ignored;
    const fs::path real = fs::canonical(file, ignored);  // a link stays one
    const fs::path target = real.empty() ? file : real;
    const FileText before = read_file_text(target, longest_file);
    if (!before.error.empty()) return file.string() + ": " + before.error;
    const Loaded meant = load_text(before.content, file.string(), overlays);
    if (!meant.good()) return file.string() + ": has mistakes now; see tripline config check";
    const std::string text = edited(before.content, overlays);
    const Loaded read_back = load_text(text, file.string());
    if (!read_back.good() || !differences(meant.settings, read_back.settings).empty()) {
        return file.string() + ": is written in a way that can't be changed safely; change it by hand";
    }
    return text == before.content ? std::string() : replace(target, text);
}

}  // namespace tripline::config
