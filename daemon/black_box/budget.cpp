#include "daemon/black_box/budget.h"

#include <map>
#include <string>
#include <vector>

namespace tripline::black_box {
namespace {

namespace fs = std::filesystem;

struct Capture {
    std::vector<fs::path> files;
    std::uint64_t bytes = 0;
};

/// By name, which begins with the time: the oldest first.
std::map<std::string, Capture> captures_in(const fs::path& folder) {
    std::map<std::string, Capture> captures;
    for (const auto& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (!name.starts_with(name_prefix) || !entry.is_regular_file()) continue;
        Capture& capture = captures[name.substr(0, name.find('.'))];
        capture.files.push_back(entry.path());
        capture.bytes += entry.file_size();
    }
    return captures;
}

}  // namespace

bool make_room(const fs::path& folder, std::uint64_t budget_bytes, std::uint64_t needed) {
    if (needed > budget_bytes) return false;
    const auto captures = captures_in(folder);
    std::uint64_t used = 0;
    for (const auto& [name, capture] : captures) used += capture.bytes;
    for (auto oldest = captures.begin(); used + needed > budget_bytes; ++oldest) {
        for (const auto& file : oldest->second.files) fs::remove(file);
        used -= oldest->second.bytes;
    }
    return true;
}

}  // namespace tripline::black_box
