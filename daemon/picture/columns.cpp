#include "daemon/picture/columns.h"

#include <algorithm>

namespace tripline::picture {
namespace {

void widen(Extent& extent, Power power, bool first) {
    const double level = to_dbfs(power).value;
    extent.low = first ? level : std::min(extent.low, level);
    extent.high = first ? level : std::max(extent.high, level);
}

}  // namespace

void Columns::take(Frames at, const dsp::Heard& heard) {
    const double share = static_cast<double>(at.count) / static_cast<double>(length_.count);
    const auto wanted = static_cast<std::size_t>(std::max(0.0, share * static_cast<double>(columns_.size())));
    Column& column = columns_[std::min(wanted, columns_.size() - 1)];
    const bool first = !column.filled;
    const dsp::Measures& m = heard.measures;
    widen(column.microphone, m.microphone, first);
    widen(column.receiver, m.receiver, first);
    widen(column.leak, m.leak, first);
    widen(column.threshold, m.threshold, first);
    column.voice = column.voice || heard.voice;
    column.filled = true;
}

}  // namespace tripline::picture
