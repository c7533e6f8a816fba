// Levels over time.
#pragma once

#include "daemon/picture/columns.h"
#include "daemon/picture/svg.h"

#include <string_view>

namespace tripline::picture {

/// A box with dBFS from bottom to top, and the curves in it.
class LevelPanel {
public:
    /// `lowest` at the bottom, 0 dBFS at the top.
    LevelPanel(const Box& box, double lowest_dbfs) : box_(box), lowest_(lowest_dbfs) {}

    /// Frame, name, lines and figures.
    void draw_axis(Svg& svg, std::string_view name) const;
    /// From the lowest to the highest of each column.
    void draw_band(Svg& svg, const std::vector<Column>& columns, Extent Column::*figure) const;
    /// The highest of each column, where it is in the box.
    void draw_line(Svg& svg, const std::vector<Column>& columns, Extent Column::*figure,
                   std::string_view style) const;

private:
    double y(double dbfs) const;
    double x(const std::vector<Column>& columns, std::size_t at) const;

    Box box_;
    double lowest_;
};

/// The next multiple of 10 dB under the quietest sound of the microphone or the receiver, from
/// -100 to -40 dBFS.
double lowest_dbfs(const std::vector<Column>& columns);

}  // namespace tripline::picture
