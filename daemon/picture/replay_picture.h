// One replayed recording as a picture.
#pragma once

#include "daemon/picture/columns.h"
#include "daemon/replay/report.h"

#include <optional>
#include <string>

namespace tripline::picture {

/// Columns of a picture, one a pixel.
inline constexpr std::size_t picture_columns = 1200;

/// Microphone, leak and threshold, receiver, labels, gate, keyed spells and every mistake over
/// time, as an SVG document. `speech` is the operator's, of the labels; none: no labels, no
/// mistakes. Nothing is told by colour alone.
std::string replay_picture(const replay::Result& result, const std::optional<replay::Spans>& speech,
                           const Columns& columns);

}  // namespace tripline::picture
