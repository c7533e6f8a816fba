#include "config/value.h"
#include "daemon/tune/map_view.h"

#include <algorithm>
#include <array>
#include <utility>

namespace tripline::tune {
namespace {

using config::to_toml;

constexpr std::size_t label_every = 4;   // columns

std::string right_aligned(std::string text, std::size_t width) {
    return text.size() < width ? std::string(width - text.size(), ' ') + text : text;
}

std::size_t widest(const Axis& axis) {
    std::size_t width = 0;
    for (const double value : axis.values) width = std::max(width, to_toml(value).size());
    return width;
}

std::string of(const Room& room, const Axis& axis, const char* direction) {
    return in_words(room, axis) + ' ' + direction + (room.to_the_edge ? " (the map ends there)" : "");
}

std::string figures(const Map& map, std::size_t width) {
    std::string line(width, ' ');
    for (std::size_t column = 0; column < map.columns(); column += label_every) {
        std::string label = to_toml(map.across.values[column]);
        label.resize(std::max<std::size_t>(label.size() + 1, 3 * label_every), ' ');
        line += ' ' + label.substr(0, 3 * label_every - 1);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    return line;
}

/// What the marks in the map stand for: one kind of mark besides '.' is in it, or none.
std::string legend(const Map& map) {
    const auto given_up = [](const Trial& trial) { return trial.given_up.has_value(); };
    if (std::ranges::all_of(map.cells, &Trial::good)) return ". no mistake\n";
    if (std::ranges::none_of(map.cells, given_up)) return ". no mistake, else how many, + more than nine\n";
    return ". no mistake, else what it was given up for: f false key, h held on, m missed over, t torn over\n";
}

std::string pair_of(const Map& map, const InForce& now) {
    return map.across.key + " = " + to_toml(now.across) + ", " + map.up.key + " = " + to_toml(now.up);
}

/// What the brackets stand for.
std::string brackets(const Map& map, const Cell& choice, const InForce& now) {
    const auto in_force = nearest(map, now);
    const std::string pair = pair_of(map, now) + '\n';
    if (!in_force) return "[ ] the choice; outside the map is what is in force: " + pair;
    const bool exact = is_at(map, *in_force, now);
    if (*in_force == choice) return exact ? "[ ] the choice, which is in force\n" : "[ ] the choice, nearest to what is in force: " + pair;
    return std::string("[ ] the choice, ( ) ") + (exact ? "in force: " : "nearest to what is in force: ") + pair;
}

}  // namespace

char mark(const Trial& trial) {
    if (trial.good()) return '.';
    if (trial.given_up) return name(*trial.given_up).front();
    const int count = mistakes(trial.score);
    return count > 9 ? '+' : static_cast<char>('0' + count);
}

std::string map_text(const Map& map, const Choice& choice, const InForce& now) {
    const std::size_t width = widest(map.up);
    const Cell chosen{choice.column, choice.row};
    const auto in_force = nearest(map, now);
    std::string text = map.up.key + " upwards, " + map.across.key + " to the right\n";
    for (std::size_t row = map.rows(); row-- > 0;) {
        text += right_aligned(to_toml(map.up.values[row]), width);
        for (std::size_t column = 0; column < map.columns(); ++column) {
            const Cell here{column, row};
            const std::string cell(1, mark(map.at(column, row)));
            text += here == chosen ? '[' + cell + ']' : here == in_force ? '(' + cell + ')' : ' ' + cell + ' ';
        }
        text += '\n';
    }
    return text + figures(map, width) + '\n' + legend(map) + brackets(map, chosen, now);
}

std::string in_force_in_words(const Map& map, const InForce& now, const replay::Score& score) {
    const std::array<std::pair<int, const char*>, 4> counts{{{score.missed, "missed"}, {score.torn, "torn"},
                                                            {score.false_keys, "keyed falsely"}, {score.held_on, "held on"}}};
    std::string text;
    for (const auto& [count, what] : counts)
        if (count > 0) text += (text.empty() ? "" : ", ") + std::to_string(count) + ' ' + what;
    return "in force, " + pair_of(map, now) + ": " + (text.empty() ? "no mistake" : text) + '\n';
}

std::string in_words(const Room& room, const Axis& axis) {
    const std::string unit = axis.unit();
    return std::string(room.to_the_edge ? "at least " : "") + to_toml(room.amount) + (unit.empty() ? "" : ' ' + unit);
}

std::string in_words(const Map& map, const Choice& choice) {
    return map.across.key + " = " + to_toml(map.across.values[choice.column]) + ": may move by " +
           of(choice.left, map.across, "down") + ", " + of(choice.right, map.across, "up") + '\n' + map.up.key + " = " +
           to_toml(map.up.values[choice.row]) + ": may move by " + of(choice.down, map.up, "down") + ", " +
           of(choice.up, map.up, "up") + '\n';
}

}  // namespace tripline::tune
