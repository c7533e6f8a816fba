#include "daemon/picture/lanes.h"

namespace tripline::picture {
namespace {

constexpr double bar_height = 10;
constexpr double bar_gap = (lane_height - bar_height) / 2;
constexpr double letter_width = 11;
constexpr double narrow = 4;      // a strip below this would only hide the levels
constexpr double tick_height = 6;

}  // namespace

Lane::Lane(Svg& svg, const Box& panel, double top, std::string_view name)
    : svg_(svg), panel_(panel), top_(top) {
    svg_.line({panel.left, top + lane_height}, {panel.right(), top + lane_height}, "grid");
    svg_.text({panel.left - 6, top + lane_height - 5}, name, "small", Anchor::end);
}

void Lane::bars(const TimeAxis& axis, const replay::Spans& spans, std::string_view style) {
    for (const auto& span : spans) svg_.rect(axis.across(span, top_ + bar_gap, bar_height), style);
}

void Lane::voice(const std::vector<Column>& columns) {
    const double width = panel_.width / static_cast<double>(columns.size());
    for (std::size_t i = 0; i < columns.size();) {
        std::size_t end = i;
        while (end < columns.size() && (columns[end].voice || (end > i && !columns[end].filled))) ++end;
        if (end > i) {
            svg_.rect({panel_.left + static_cast<double>(i) * width, top_ + bar_gap,
                       static_cast<double>(end - i) * width, bar_height},
                      "voice");
        }
        i = end + 1;
    }
}

void Lane::mistakes(const TimeAxis& axis, const std::vector<replay::Mistake>& mistakes) {
    double free_from = 0;
    for (const auto& mistake : mistakes) {
        Box strip = axis.across(mistake.at, panel_.top, top_ - panel_.top);
        if (strip.width < narrow) strip = {strip.left, panel_.top - tick_height, strip.width, tick_height};
        svg_.rect(strip, "mistake");
        if (strip.left < free_from) {
            svg_.rect({strip.left, top_ + bar_gap, 1, bar_height}, "keyed");
            continue;
        }
        svg_.text({strip.left, top_ + lane_height - 5}, letter(mistake.kind), "letter");
        free_from = strip.left + letter_width;
    }
}

std::string_view letter(replay::MistakeKind kind) {
    switch (kind) {
        case replay::MistakeKind::missed: return "M";
        case replay::MistakeKind::torn: return "T";
        case replay::MistakeKind::false_key: return "F";
        case replay::MistakeKind::held_on: return "H";
        case replay::MistakeKind::clipped: return "C";
    }
    return "";
}

}  // namespace tripline::picture
