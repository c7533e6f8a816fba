// The setting that stays good the longest when something moves.
#pragma once

#include "daemon/tune/map.h"

#include <optional>

namespace tripline::tune {

/// How far a value may go before a mistake is made, or the map ends.
struct Room {
    double amount = 0;        ///< in the axis' unit
    bool to_the_edge = false; ///< all of the map that way is good: there may be more
};

struct Choice {
    std::size_t column = 0;
    std::size_t row = 0;
    Room left;    ///< towards lower values of `across`
    Room right;
    Room down;    ///< towards lower values of `up`
    Room up;
};

/// Among the cells without a mistake the one with the most cells to the nearest bad one or the
/// map's end, counted as a king moves; of those the one whose surroundings are good the
/// furthest on all four sides together; of those the first. Nothing if no cell is good.
std::optional<Choice> most_robust(const Map& map);

/// The cell with the fewest mistakes, the first of several: what to look at when none is good.
Choice least_bad(const Map& map);

}  // namespace tripline::tune
