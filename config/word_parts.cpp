#include "config/word_parts.h"

#include "config/keys.h"

#include <algorithm>
#include <limits>
#include <utility>
#include <vector>

namespace tripline::config {
namespace {

std::vector<std::string_view> parts_of(std::string_view name) {
    std::vector<std::string_view> parts;
    while (!name.empty()) {
        const auto end = std::min(name.find('_'), name.size());
        if (end > 0) parts.push_back(name.substr(0, end));
        name.remove_prefix(std::min(end + 1, name.size()));
    }
    return parts;
}

/// What radio people write for them (common practice).
constexpr std::pair<std::string_view, std::string_view> short_for[]{{"rx", "receiver"}, {"tx", "transmitter"}, {"tx", "transmit"}};

bool means(std::string_view written, std::string_view part) {
    constexpr std::size_t shortest = 3;
    if (written == part || std::ranges::find(short_for, std::pair(written, part)) != std::end(short_for)) return true;
    const auto [less, more] = std::minmax(written, part, [](std::string_view a, std::string_view b) { return a.size() < b.size(); });
    return less.size() >= shortest && (more.starts_with(less) || more.ends_with(less));
}

/// Parts that nobody wrote; none when one that was written is not there.
std::size_t left_over(const std::vector<std::string_view>& written, std::string_view key) {
    const auto parts = parts_of(leaf_of(stem_of(key)));
    const bool all = std::ranges::all_of(written, [&](std::string_view word) {
        return std::ranges::any_of(parts, [&](std::string_view part) { return means(word, part); });
    });
    return all && parts.size() >= written.size() ? parts.size() - written.size() : std::numeric_limits<std::size_t>::max();
}

}  // namespace

std::string suggest_by_parts(std::string_view path) {
    const auto written = parts_of(leaf_of(stem_of(path)));
    if (written.empty()) return {};
    for (const bool same_table : {true, false}) {
        if (!same_table && written.size() == 1) break;  // one word is not enough to go to another table for
        auto least = std::numeric_limits<std::size_t>::max();
        std::string found;
        for (const Key& key : all_keys()) {
            if (same_table && table_of(key.path) != table_of(path)) continue;
            const auto left = left_over(written, key.path);
            if (left > least || left == std::numeric_limits<std::size_t>::max()) continue;
            found = left < least ? key.path : std::string();
            least = left;
        }
        if (!found.empty()) return found;
    }
    return {};
}

}  // namespace tripline::config
