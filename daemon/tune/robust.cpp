#include "daemon/tune/robust.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace tripline::tune {
namespace {

using Step = std::ptrdiff_t;

bool good(const Map& map, Step column, Step row) {
    const bool inside = column >= 0 && row >= 0 && column < static_cast<Step>(map.columns()) &&
                        row < static_cast<Step>(map.rows());
    return inside && map.good(static_cast<std::size_t>(column), static_cast<std::size_t>(row));
}

/// Rings of cells around it that are good throughout.
int rings(const Map& map, Step column, Step row) {
    for (Step ring = 0;; ++ring) {
        for (Step i = -ring; i <= ring; ++i) {
            const bool whole = good(map, column + i, row - ring) && good(map, column + i, row + ring) &&
                               good(map, column - ring, row + i) && good(map, column + ring, row + i);
            if (!whole) return static_cast<int>(ring);
        }
    }
}

/// Good cells in a row, from the next one on.
Step straight(const Map& map, Step column, Step row, Step across, Step up) {
    Step steps = 0;
    while (good(map, column + (steps + 1) * across, row + (steps + 1) * up)) ++steps;
    return steps;
}

Room room(const Axis& axis, std::size_t at, Step steps, Step direction) {
    const auto end = static_cast<std::size_t>(static_cast<Step>(at) + steps * direction);
    const bool edge = direction < 0 ? end == 0 : end + 1 == axis.values.size();
    return {without_residue(std::abs(axis.values[end] - axis.values[at])), edge};
}

Choice measured(const Map& map, std::size_t column, std::size_t row) {
    const auto c = static_cast<Step>(column);
    const auto r = static_cast<Step>(row);
    return {column,
            row,
            room(map.across, column, straight(map, c, r, -1, 0), -1),
            room(map.across, column, straight(map, c, r, 1, 0), 1),
            room(map.up, row, straight(map, c, r, 0, -1), -1),
            room(map.up, row, straight(map, c, r, 0, 1), 1)};
}

}  // namespace

std::optional<Choice> most_robust(const Map& map) {
    std::tuple<int, Step> best{0, 0};
    std::optional<std::pair<std::size_t, std::size_t>> found;
    for (std::size_t row = 0; row < map.rows(); ++row) {
        for (std::size_t column = 0; column < map.columns(); ++column) {
            const auto c = static_cast<Step>(column);
            const auto r = static_cast<Step>(row);
            const int clear = rings(map, c, r);
            if (clear == 0) continue;
            const Step all = std::min(straight(map, c, r, -1, 0), straight(map, c, r, 1, 0)) +
                             std::min(straight(map, c, r, 0, -1), straight(map, c, r, 0, 1));
            const std::tuple rank{clear, all};
            if (found && rank <= best) continue;
            best = rank;
            found = {column, row};
        }
    }
    if (!found) return std::nullopt;
    return measured(map, found->first, found->second);
}

Choice least_bad(const Map& map) {
    const auto rank = [](const Trial& trial) { return std::pair{trial.given_up.has_value(), mistakes(trial.score)}; };
    const auto fewest = std::ranges::min_element(map.cells, {}, rank);
    const auto at = static_cast<std::size_t>(fewest - map.cells.begin());
    return measured(map, at % map.columns(), at / map.columns());
}

}  // namespace tripline::tune
