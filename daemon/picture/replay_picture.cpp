#include "daemon/picture/replay_picture.h"

#include "daemon/picture/lanes.h"
#include "daemon/picture/levels.h"
#include "daemon/picture/summary.h"
#include "daemon/picture/time_axis.h"
#include "daemon/text/print.h"

#include <algorithm>

namespace tripline::picture {
namespace {

constexpr double left = 92;
constexpr double right = 24;
constexpr double width = picture_columns;
constexpr double microphone_top = 74;
constexpr double microphone_height = 240;
constexpr double receiver_top = microphone_top + microphone_height + 30;
constexpr double receiver_height = 110;
constexpr double lanes_top = receiver_top + receiver_height + 10;
constexpr double lanes_bottom = lanes_top + 4 * lane_height;
constexpr double list_top = lanes_bottom + 44;
constexpr double list_line = 16;
constexpr std::size_t list_columns = 3;
constexpr std::size_t most_listed = 45;

constexpr auto style =
    "text{font-family:sans-serif;fill:#111}.title{font-size:17px;font-weight:bold}.name{font-size:13px;"
    "font-weight:bold}.small{font-size:12px}.letter{font-size:13px;font-weight:bold}"
    ".paper{fill:#fff}.grid{stroke:#ddd;stroke-width:1}.frame{fill:none;stroke:#555;stroke-width:1}"
    ".band{fill:#9aa7b1;stroke:#5d6d78;stroke-width:0.5}"
    ".leak{fill:none;stroke:#8a3d00;stroke-width:1.4;stroke-dasharray:7 3}"
    ".threshold{fill:none;stroke:#000;stroke-width:1.8;stroke-dasharray:1.5 3}"
    ".speech{fill:#fff;stroke:#111;stroke-width:1.2}.voice{fill:#777}.keyed{fill:#111}"
    ".mistake{fill:url(#hatch);stroke:#a00000;stroke-width:0.7}";

constexpr auto hatch =
    "<pattern id=\"hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">"
    "<path d=\"M0 6L6 0\" stroke=\"#a00000\" stroke-width=\"0.8\"/></pattern>";

/// What the curves are.
void draw_key(Svg& svg) {
    constexpr double y = 52;
    double x = left + 190;
    const auto entry = [&](const char* name, double length) {
        svg.text({x + 46, y + 4}, name, "small");
        x += length;
    };
    svg.rect({x, y - 5, 40, 10}, "band");
    entry("microphone, lowest to highest", 240);
    svg.line({x, y}, {x + 40, y}, "leak");
    entry("leak expected of the receiver", 240);
    svg.line({x, y}, {x + 40, y}, "threshold");
    entry("threshold the rest has to pass", 240);
}

std::string in_words(const replay::Mistake& mistake) {
    using replay::to_seconds;
    return std::string(letter(mistake.kind)) + "  " + std::string(name(mistake.kind)) +
           print(", %.2f to %.2f s", to_seconds(mistake.at.begin), to_seconds(mistake.at.end));
}

void draw_list(Svg& svg, const std::vector<replay::Mistake>& mistakes) {
    const std::size_t listed = std::min(mistakes.size(), most_listed);
    for (std::size_t i = 0; i < listed; ++i) {
        const auto row = static_cast<double>(i / list_columns);
        const auto column = static_cast<double>(i % list_columns);
        svg.text({left + column * width / list_columns, list_top + row * list_line}, in_words(mistakes[i]), "small");
    }
    if (listed == mistakes.size()) return;
    const auto row = static_cast<double>((listed + list_columns - 1) / list_columns);
    svg.text({left, list_top + row * list_line}, print("and %zu more", mistakes.size() - listed), "small");
}

double list_height(std::size_t mistakes) {
    const std::size_t listed = std::min(mistakes, most_listed);
    const std::size_t rows = (listed + list_columns - 1) / list_columns + (mistakes > most_listed ? 1 : 0);
    return static_cast<double>(rows) * list_line;
}

void draw_levels(Svg& svg, const std::vector<Column>& columns) {
    const double lowest = lowest_dbfs(columns);
    const LevelPanel microphone({left, microphone_top, width, microphone_height}, lowest);
    microphone.draw_axis(svg, "Microphone");
    microphone.draw_band(svg, columns, &Column::microphone);
    microphone.draw_line(svg, columns, &Column::leak, "leak");
    microphone.draw_line(svg, columns, &Column::threshold, "threshold");
    const LevelPanel receiver({left, receiver_top, width, receiver_height}, lowest);
    receiver.draw_axis(svg, "Receiver");
    receiver.draw_band(svg, columns, &Column::receiver);
}

void draw_lanes(Svg& svg, const TimeAxis& axis, const replay::Result& result, const replay::Spans& speech,
                const Columns& columns, const std::vector<replay::Mistake>& mistakes) {
    const Box panels{left, microphone_top, width, lanes_bottom - microphone_top};
    const auto top = [](int lane) { return lanes_top + lane * lane_height; };
    replay::Spans keyed;
    for (const auto& spell : result.spells) keyed.push_back({spell.keyed, spell.released});
    Lane(svg, panels, top(0), "labels").bars(axis, speech, "speech");
    Lane(svg, panels, top(1), "voice").voice(columns.all());
    Lane(svg, panels, top(2), "key closed").bars(axis, keyed, "keyed");
    Lane(svg, panels, top(3), "mistakes").mistakes(axis, mistakes);
}

}  // namespace

std::string replay_picture(const replay::Result& result, const std::optional<replay::Spans>& speech,
                           const Columns& columns) {
    const auto mistakes = speech ? replay::mistakes(*speech, result.spells, result.timing)
                                 : std::vector<replay::Mistake>{};
    const double height = list_top + list_height(mistakes.size());
    const std::string title = result.file + ": " + summary(result);
    Svg svg(left + width + right, height, title, style);
    svg.define(hatch);
    svg.rect({0, 0, left + width + right, height}, "paper");
    svg.text({left, 26}, title, "title");
    draw_key(svg);
    const TimeAxis axis({left, microphone_top, width, lanes_bottom - microphone_top}, result.length);
    axis.draw(svg);
    draw_levels(svg, columns.all());
    draw_lanes(svg, axis, result, speech.value_or(replay::Spans{}), columns, mistakes);
    draw_list(svg, mistakes);
    return svg.str();
}

}  // namespace tripline::picture
