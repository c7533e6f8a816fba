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
constexpr double top = 60;
constexpr double bottom = 70;
constexpr double narrowest = 560;

constexpr auto style =
    "text{font-family:sans-serif;fill:#111;font-size:12px}.name{font-size:14px;font-weight:bold}"
    ".paper{fill:#fff}.good{fill:#fff;stroke:#999}.bad{fill:#d5d9dc;stroke:#999}"
    ".choice{fill:none;stroke:#000;stroke-width:3}";

class Picture {
public:
    Picture(const Map& map, const Choice& choice) : map_(map), choice_(choice) {}

    std::string draw() {
        const double height = top + cell * static_cast<double>(map_.rows()) + bottom;
        const double width = std::max(narrowest, left + cell * static_cast<double>(map_.columns()) + 20);
        Svg svg(width, height, "Mistakes by " + map_.across.key + " and " + map_.up.key, style);
        svg.rect({0, 0, width, height}, "paper");
        svg.text({left, 24}, map_.up.key + " upwards, " + map_.across.key + " to the right", "name");
        svg.text({left, 44}, "number: mistakes; empty: none; thick frame: the choice", "key");
        for (std::size_t row = 0; row < map_.rows(); ++row) draw_row(svg, row);
        draw_values(svg);
        svg.rect(box(choice_.column, choice_.row), "choice");
        return svg.str();
    }

private:
    Box box(std::size_t column, std::size_t row) const {
        return {left + cell * static_cast<double>(column), top + cell * static_cast<double>(map_.rows() - 1 - row),
                cell, cell};
    }
    void draw_row(Svg& svg, std::size_t row) const {
        for (std::size_t column = 0; column < map_.columns(); ++column) {
            const int count = mistakes(map_.at(column, row));
            const Box at = box(column, row);
            svg.rect(at, count == 0 ? "good" : "bad");
            if (count > 0) svg.text({at.left + cell / 2, at.top + 20}, std::to_string(count), "count", Anchor::middle);
        }
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
};

}  // namespace

std::string map_picture(const Map& map, const Choice& choice) { return Picture(map, choice).draw(); }

}  // namespace tripline::tune
