// Adjustments of the guard that the operator may make. Its silence limit is not one.
#pragma once

#include "dsp/units.h"

namespace tripline::guard {

using std::chrono_literals::operator""s;

struct Settings {
    Duration margin = 5s;  ///< the guard's own longest transmission is the station's plus this
    Hertz alive{10};       ///< frequency of the square wave on the alive line, 2 to 10
};

}  // namespace tripline::guard
