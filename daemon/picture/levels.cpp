#include "daemon/picture/levels.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace tripline::picture {
namespace {

constexpr int grid_db = 10;
constexpr int figure_db = 20;

}  // namespace

double LevelPanel::y(double dbfs) const {
    return box_.top + box_.height * std::clamp(dbfs / lowest_, 0.0, 1.0);
}

double LevelPanel::x(const std::vector<Column>& columns, std::size_t at) const {
    return box_.left + box_.width * (static_cast<double>(at) + 0.5) / static_cast<double>(columns.size());
}

void LevelPanel::draw_axis(Svg& svg, std::string_view name) const {
    for (int level = 0; level > lowest_; level -= grid_db) {
        svg.line({box_.left, y(level)}, {box_.right(), y(level)}, "grid");
        if (level % figure_db != 0) continue;
        svg.text({box_.left - 6, y(level) + 4}, std::to_string(level), "small", Anchor::end);
    }
    svg.rect(box_, "frame");
    svg.text({box_.left - 6, box_.bottom()}, "dBFS", "small", Anchor::end);
    svg.text({box_.left, box_.top - 9}, name, "name");
}

void LevelPanel::draw_band(Svg& svg, const std::vector<Column>& columns, Extent Column::*figure) const {
    std::vector<Point> outline;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (columns[i].filled) outline.push_back({x(columns, i), y((columns[i].*figure).high) - 0.5});
    }
    for (std::size_t i = columns.size(); i-- > 0;) {
        if (columns[i].filled) outline.push_back({x(columns, i), y((columns[i].*figure).low) + 0.5});
    }
    svg.polygon(outline, "band");
}

void LevelPanel::draw_line(Svg& svg, const std::vector<Column>& columns, Extent Column::*figure,
                           std::string_view style) const {
    std::vector<Point> line;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (!columns[i].filled) continue;
        const double level = (columns[i].*figure).high;
        if (level > lowest_) {
            line.push_back({x(columns, i), y(level)});
        } else if (!line.empty()) {
            svg.polyline(line, style);
            line.clear();
        }
    }
    if (!line.empty()) svg.polyline(line, style);
}

double lowest_dbfs(const std::vector<Column>& columns) {
    double quietest = 0;
    for (const Column& column : columns) {
        if (!column.filled) continue;
        for (const double level : {column.microphone.low, column.receiver.low}) {
            if (level > -100) quietest = std::min(quietest, level);
        }
    }
    return std::clamp(std::floor(quietest / grid_db) * grid_db, -100.0, -40.0);
}

}  // namespace tripline::picture
