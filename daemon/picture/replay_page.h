// One replayed recording as a page to zoom in.
#pragma once

#include "daemon/picture/columns.h"
#include "daemon/replay/report.h"

#include <optional>
#include <string>

namespace tripline::picture {

/// Columns of a page: one for 5 ms, but 200,000 at most, which an hour has 18 ms each of.
std::size_t page_columns(Duration length);

/// What replay_picture() shows, as an HTML document that fetches nothing: wheel, keys and buttons
/// zoom into it. About 8 bytes a column.
std::string replay_page(const replay::Result& result, const std::optional<replay::Spans>& speech,
                        const Columns& columns);

}  // namespace tripline::picture
