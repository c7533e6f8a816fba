// What of the map's choice is worth a change of what is in force.
#pragma once

#include "daemon/tune/robust.h"

#include <optional>
#include <string>

namespace tripline::tune {

/// The values of both settings now; they need not be in the map.
struct InForce {
    double across = 0;
    double up = 0;
};

/// A place in the map.
struct Cell {
    std::size_t column = 0;
    std::size_t row = 0;
    bool operator==(const Cell&) const = default;
};

/// The pair nearest to what is in force; nothing when that is outside the map.
std::optional<Cell> nearest(const Map& map, const InForce& now);
/// Whether a cell stands for exactly that.
bool is_at(const Map& map, const Cell& cell, const InForce& now);

/// Values to set; none: what is in force stays.
struct Advice {
    std::optional<double> across;
    std::optional<double> up;
};

/// The choice stands midway between edges. An edge that the map does not show is nowhere, so a
/// setting is only moved away from an edge that was seen, or between two. Where the pair that
/// would then be in force is in the map and makes a mistake, the whole choice is the advice.
Advice advise(const Map& map, const Choice& choice, const InForce& now);

/// Both values of the choice.
Advice whole(const Map& map, const Choice& choice);

/// Why a setting stays, a line each; empty when both take the choice's value.
std::string what_stays(const Map& map, const Choice& choice, const InForce& now, const Advice& advice);

/// Whether the coupling advised or that of tripline setup is to be trusted, in two lines; empty where the map has none. Where the
/// advice moves the coupling it is never setup's.
std::string beside_setup(const Map& map, const Choice& choice, const InForce& now, const Advice& advice);

}  // namespace tripline::tune
