// What the operator says of an over afterwards.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace tripline::logbook {

enum class Mark : std::uint8_t {
    none,
    false_key,  ///< it should not have been
    missed,     ///< somebody spoke and nothing was keyed: a mark of a moment, of no over
    late,       ///< it began after the speech did
};
inline constexpr std::array mark_names{std::string_view(), std::string_view("false"), std::string_view("missed"),
                                       std::string_view("late")};

/// Empty: none.
constexpr std::string_view name(Mark mark) { return mark_names[static_cast<std::size_t>(mark)]; }

/// Never `none`.
constexpr std::optional<Mark> mark_named(std::string_view text) {
    const auto* const found = std::ranges::find(mark_names.begin() + 1, mark_names.end(), text);
    if (found == mark_names.end()) return std::nullopt;
    return static_cast<Mark>(found - mark_names.begin());
}

}  // namespace tripline::logbook
