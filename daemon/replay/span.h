// Stretches of time in a recording.
#pragma once

#include "dsp/units.h"

#include <vector>

namespace tripline::replay {

/// From `begin` up to, not including, `end`; counted from the recording's start.
struct Span {
    Duration begin{};
    Duration end{};
    Duration length() const { return end - begin; }
    bool operator==(const Span&) const = default;
};

/// Sorted and apart from each other.
using Spans = std::vector<Span>;

/// Sorts, drops what is empty, and joins what overlaps or lies less than `gap` apart.
Spans joined(Spans spans, Duration gap);

/// What lies in both.
Spans intersection(const Spans& a, const Spans& b);

/// What of `a` lies outside `b`.
Spans difference(const Spans& a, const Spans& b);

Duration total(const Spans& spans);

inline double to_seconds(Duration d) { return std::chrono::duration<double>(d).count(); }
inline double to_ms(Duration d) { return std::chrono::duration<double, std::milli>(d).count(); }

}  // namespace tripline::replay
