#include "config/value.h"
#include "daemon/picture/svg.h"
#include "daemon/tune/map_view.h"

#include <algorithm>

namespace tripline::tune {
namespace {

using picture::Anchor;
using picture::Box;
using picture::Svg;

constexpr double cell = 30;
constexpr double left = 90;
constexpr double top = 106;
constexpr double bottom = 70;
constexpr double narrowest = 640;
constexpr double letter = 7;   // width of a bold one, about

constexpr auto style =
    "text{font-family:sans-serif;fill:#111;font-size:12px}.name{font-size:14px;font-weight:bold}"
    ".paper{fill:#fff}.good{fill:#fff;stroke:#999}.bad{fill:#d5d9dc;stroke:#999}"
    ".choice{fill:none;stroke:#000;stroke-width:3}.now{fill:none;stroke:#000;stroke-width:2;stroke-dasharray:2 3}"
    ".edge{stroke:#0b57a4;stroke-width:3}"
    ".end{stroke:#0b57a4;stroke-width:3;stroke-dasharray:4 4}.room{stroke:#0b57a4;stroke-width:1.5}"
    ".length{fill:#0b57a4;font-weight:bold;paint-order:stroke;stroke:#fff;stroke-width:4px}";

class Picture {
public:
    Picture(const Map& map, const Choice& choice, const InForce& now) : map_(map), choice_(choice), now_(nearest(map, now)) {}

    std::string draw() {
        const double height = top + cell * static_cast<double>(map_.rows()) + bottom;
        const double width = std::max(narrowest, left + cell * static_cast<double>(map_.columns()) + 20);
        Svg svg(width, height, "Mistakes by " + map_.across.key + " and " + map_.up.key, style);
        svg.rect({0, 0, width, height}, "paper");
        svg.text({left, 24}, map_.up.key + " upwards, " + map_.across.key + " to the right", "name");
        svg.text({left, 42}, "empty: no mistake; number: how many; letter: what it was given up for,", "key");
        svg.text({left, 58}, "f false key, h held on, m missed over, t torn over; outlined: the region without a", "key");
        svg.text({left, 74}, "mistake, dashed where the map ends; frame: the choice, with its room each way", "key");
        svg.text({left, 90}, now_ ? "dots: nearest to what is in force" : "what is in force is outside the map", "key");
        for (std::size_t row = 0; row < map_.rows(); ++row) draw_row(svg, row);
        for (std::size_t row = 0; row < map_.rows(); ++row) outline_row(svg, row);
        draw_values(svg);
        if (now_) svg.rect(inside(box(now_->column, now_->row)), "now");
        svg.rect(box(choice_.column, choice_.row), "choice");
        if (map_.good(choice_.column, choice_.row)) draw_rooms(svg);
        return svg.str();
    }

private:
    Box box(std::size_t column, std::size_t row) const {
        return {left + cell * static_cast<double>(column), top + cell * static_cast<double>(map_.rows() - 1 - row),
                cell, cell};
    }
    static Box inside(const Box& box) { return {box.left + 5, box.top + 5, box.width - 10, box.height - 10}; }
    void draw_row(Svg& svg, std::size_t row) const {
        for (std::size_t column = 0; column < map_.columns(); ++column) {
            const Trial& trial = map_.at(column, row);
            const Box at = box(column, row);
            svg.rect(at, trial.good() ? "good" : "bad");
            if (!trial.good()) svg.text({at.left + cell / 2, at.top + 20}, told(trial), "count", Anchor::middle);
        }
    }
    static std::string told(const Trial& trial) {
        return trial.given_up ? std::string(1, mark(trial)) : std::to_string(mistakes(trial.score));
    }
    /// Where a good cell ends at one that is not, or at the end of the map.
    void outline_row(Svg& svg, std::size_t row) const {
        for (std::size_t column = 0; column < map_.columns(); ++column) {
            if (!map_.good(column, row)) continue;
            const Box at = box(column, row);
            const auto side = [&](bool last, std::size_t next_column, std::size_t next_row, picture::Point from, picture::Point to) {
                if (last || !map_.good(next_column, next_row)) svg.line(from, to, last ? "end" : "edge");
            };
            side(column == 0, column - 1, row, {at.left, at.top}, {at.left, at.bottom()});
            side(column + 1 == map_.columns(), column + 1, row, {at.right(), at.top}, {at.right(), at.bottom()});
            side(row == 0, column, row - 1, {at.left, at.bottom()}, {at.right(), at.bottom()});
            side(row + 1 == map_.rows(), column, row + 1, {at.left, at.top}, {at.right(), at.top});
        }
    }
    void draw_rooms(Svg& svg) const {
        const Box at = box(choice_.column, choice_.row);
        const auto across = [&](const Room& room) { return cells(map_.across, choice_.column, room); };
        const auto up = [&](const Room& room) { return cells(map_.up, choice_.row, room); };
        const double middle_x = at.left + cell / 2;
        const double middle_y = at.top + cell / 2;
        const auto room = [&](const Room& amount, const Axis& axis, picture::Point from, picture::Point to) {
            svg.line(from, to, "room");
            if (amount.amount <= 0) return;
            const std::string words = in_words(amount, axis);
            const double half = letter * static_cast<double>(words.size()) / 2;   // clear of the values at the left
            svg.text({std::max((from.x + to.x) / 2, left + half), (from.y + to.y) / 2 + 4}, words, "length", Anchor::middle);
        };
        room(choice_.left, map_.across, {at.left, middle_y}, {at.left - cell * across(choice_.left), middle_y});
        room(choice_.right, map_.across, {at.right(), middle_y}, {at.right() + cell * across(choice_.right), middle_y});
        room(choice_.down, map_.up, {middle_x, at.bottom()}, {middle_x, at.bottom() + cell * up(choice_.down)});
        room(choice_.up, map_.up, {middle_x, at.top}, {middle_x, at.top - cell * up(choice_.up)});
    }
    /// How many cells a room is: the axis rises in equal steps.
    static double cells(const Axis& axis, std::size_t at, const Room& room) {
        const std::size_t next = at + 1 < axis.values.size() ? at : at - 1;
        return axis.values.size() < 2 ? 0 : room.amount / (axis.values[next + 1] - axis.values[next]);
    }
    void draw_values(Svg& svg) const {
        for (std::size_t row = 0; row < map_.rows(); ++row) {
            svg.text({left - 6, box(0, row).top + 20}, config::to_toml(map_.up.values[row]), "value", Anchor::end);
        }
        for (std::size_t column = 0; column < map_.columns(); ++column) {
            const double x = box(column, 0).left + cell / 2;
            svg.text({x, box(0, 0).bottom() + 16}, config::to_toml(map_.across.values[column]), "value",
                     Anchor::middle);
        }
    }

    const Map& map_;
    const Choice& choice_;
    std::optional<Cell> now_;
};

}  // namespace

std::string map_picture(const Map& map, const Choice& choice, const InForce& now) { return Picture(map, choice, now).draw(); }

}  // namespace tripline::tune
