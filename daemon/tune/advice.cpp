#include "daemon/tune/advice.h"

#include "config/value.h"

#include <algorithm>
#include <cmath>

namespace tripline::tune {
namespace {

using config::to_toml;

std::optional<double> worth_a_move(double chosen, double now, const Room& below, const Room& above) {
    const bool away_from_lower = !below.to_the_edge && chosen > now;
    const bool away_from_upper = !above.to_the_edge && chosen < now;
    const bool between = !below.to_the_edge && !above.to_the_edge;
    if (between || away_from_lower || away_from_upper) return chosen;
    return std::nullopt;
}

std::optional<std::size_t> place(const Axis& axis, double value) {
    const auto found = std::ranges::find(axis.values, value);
    if (found == axis.values.end()) return std::nullopt;
    return static_cast<std::size_t>(found - axis.values.begin());
}

std::optional<std::size_t> nearest_place(const Axis& axis, double value) {
    if (value < axis.values.front() || value > axis.values.back()) return std::nullopt;
    const auto distance = [&](double one) { return std::abs(one - value); };
    return static_cast<std::size_t>(std::ranges::min_element(axis.values, {}, distance) - axis.values.begin());
}

/// "with anti_trip.coupling_db = -18 from -60 to -44": the line through the choice along which its room is measured.
std::string line_of(const Axis& axis, const Axis& other, std::size_t at) {
    return "with " + other.key + " = " + to_toml(other.values[at]) + ", from " + to_toml(axis.values.front()) + " to " + to_toml(axis.values.back());
}

/// `line` as line_of() has it.
std::string why(const Axis& axis, const std::string& line, double now, const Room& below, const Room& above) {
    if (below.to_the_edge && above.to_the_edge) {
        return axis.key + ": " + line + ", no edge is seen, so the map does not tell what it should be there; " + to_toml(now) + " stays\n";
    }
    return axis.key + ": " + line + ", an edge is seen only on the " + (above.to_the_edge ? "lower" : "upper") + " side; " +
           to_toml(now) + " is no nearer to it than the choice, and stays\n";
}

constexpr auto coupling = "anti_trip.coupling_db";

}  // namespace

std::optional<Cell> nearest(const Map& map, const InForce& now) {
    const auto column = nearest_place(map.across, now.across);
    const auto row = nearest_place(map.up, now.up);
    return column && row ? std::optional(Cell{*column, *row}) : std::nullopt;
}

bool is_at(const Map& map, const Cell& cell, const InForce& now) {
    return map.across.values[cell.column] == now.across && map.up.values[cell.row] == now.up;
}

Advice whole(const Map& map, const Choice& choice) {
    return {map.across.values[choice.column], map.up.values[choice.row]};
}

Advice advise(const Map& map, const Choice& choice, const InForce& now) {
    const Advice all = whole(map, choice);
    const Advice some{worth_a_move(*all.across, now.across, choice.left, choice.right),
                      worth_a_move(*all.up, now.up, choice.down, choice.up)};
    const auto column = place(map.across, some.across.value_or(now.across));
    const auto row = place(map.up, some.up.value_or(now.up));
    return column && row && !map.good(*column, *row) ? all : some;
}

std::string what_stays(const Map& map, const Choice& choice, const InForce& now, const Advice& advice) {
    const std::string across = line_of(map.across, map.up, choice.row);
    const std::string up = line_of(map.up, map.across, choice.column);
    return (advice.across ? "" : why(map.across, across, now.across, choice.left, choice.right)) +
           (advice.up ? "" : why(map.up, up, now.up, choice.down, choice.up));
}

std::string beside_setup(const Map& map, const Choice& choice, const InForce& now, const Advice& advice) {
    const bool upwards = map.up.key == coupling;
    if (!upwards && map.across.key != coupling) return {};
    const bool moves = upwards ? advice.up.value_or(now.up) != now.up : advice.across.value_or(now.across) != now.across;
    const bool between = upwards ? !choice.down.to_the_edge && !choice.up.to_the_edge : !choice.left.to_the_edge && !choice.right.to_the_edge;
    if (between && moves)
        return "Take this anti_trip.coupling_db, with mistakes counted on both sides of it, also where tripline setup found another, if the\n"
               "loudspeaker was as loud in these recordings as it gets; else leave its line out.\n";
    if (between)
        return "Keep this anti_trip.coupling_db, with mistakes counted on both sides of it, also where tripline setup found another, if the\n"
               "loudspeaker was as loud in these recordings as it gets; else take setup's.\n";
    if (moves)
        return "Take this anti_trip.coupling_db also where tripline setup found the one in force, at or near which mistakes were counted. How far\n"
               "it may go is not known, since this map shows no edge on both sides of the choice: a wider one tells.\n";
    return "Where tripline setup found another anti_trip.coupling_db, trust setup's, which it measured: this map shows no edge on both\n"
           "sides of the choice.\n";
}

}  // namespace tripline::tune
