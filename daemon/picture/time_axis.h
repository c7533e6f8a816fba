// Time from left to right.
#pragma once

#include "daemon/picture/svg.h"
#include "daemon/replay/span.h"

#include <string>

namespace tripline::picture {

class TimeAxis {
public:
    /// `length` of the recording, more than 0, over the width of `box`.
    TimeAxis(const Box& box, Duration length) : box_(box), length_(length) {}

    double x(Duration at) const;
    /// At least a pixel wide, so that nothing short is lost.
    Box across(const replay::Span& span, double top, double height) const;
    /// Lines down the box, and their times under it.
    void draw(Svg& svg) const;

    /// Between two lines: 1, 2 or 5 times a power of ten below 10 s, then what a clock shows.
    Duration step() const;

private:
    Box box_;
    Duration length_;
};

/// "7.5 s" under a minute, else "1:02" or "1:00:00"; `step` tells how exact it has to be.
std::string clock_text(Duration at, Duration step);

}  // namespace tripline::picture
