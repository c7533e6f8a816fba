// What was said, keyed and mistaken, as rows of bars over time.
#pragma once

#include "daemon/picture/columns.h"
#include "daemon/picture/time_axis.h"
#include "daemon/replay/mistake.h"

#include <string_view>
#include <vector>

namespace tripline::picture {

inline constexpr double lane_height = 18;

/// One row, named on the left; its top stands at `top`.
class Lane {
public:
    Lane(Svg& svg, const Box& panel, double top, std::string_view name);

    void bars(const TimeAxis& axis, const replay::Spans& spans, std::string_view style);
    /// Where the gate was open.
    void voice(const std::vector<Column>& columns);
    /// A letter a mistake where there is room for it, else a bar; hatched over the whole panel,
    /// or a tick on its upper edge for one of few pixels.
    void mistakes(const TimeAxis& axis, const std::vector<replay::Mistake>& mistakes);

private:
    Svg& svg_;
    Box panel_;
    double top_;
};

/// The letter of a mistake in the picture.
std::string_view letter(replay::MistakeKind kind);

}  // namespace tripline::picture
