#include "daemon/black_box/budget.h"

#include "daemon/text/print.h"

#include <charconv>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tripline::black_box {
namespace {

namespace fs = std::filesystem;

struct Capture {
    std::vector<fs::path> files;
    std::uint64_t bytes = 0;
};

/// Of a name's number; 0: it has none. The day behind it has eight digits.
std::uint64_t number_in(std::string_view name) {
    constexpr std::size_t digits_of_day = 8;
    name.remove_prefix(std::string_view(name_prefix).size());
    std::uint64_t number = 0;
    const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), number);
    if (error != std::errc{}) return 0;
    name.remove_prefix(static_cast<std::size_t>(end - name.data()));
    const bool day = name.starts_with('-') && name.find_first_not_of("0123456789", 1) == 1 + digits_of_day;
    return day ? number : 0;
}

using Captures = std::map<std::pair<std::uint64_t, std::string>, Capture>;

/// The oldest first; those without a number by their name, before all others.
Captures captures_in(const fs::path& folder) {
    Captures captures;
    for (const auto& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (!name.starts_with(name_prefix) || !entry.is_regular_file()) continue;
        Capture& capture = captures[{number_in(name), name.substr(0, name.find('.'))}];
        capture.files.push_back(entry.path());
        capture.bytes += entry.file_size();
    }
    return captures;
}

}  // namespace

std::uint64_t next_number(const fs::path& folder) {
    const auto captures = captures_in(folder);
    return captures.empty() ? 1 : captures.rbegin()->first.first + 1;
}

std::string numbered_prefix(std::uint64_t number) { return print("%s%06llu-", name_prefix, static_cast<unsigned long long>(number)); }

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
