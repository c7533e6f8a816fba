#include "daemon/picture/replay_page.h"

#include "daemon/picture/levels.h"
#include "daemon/picture/summary.h"
#include "daemon/picture/xml_text.h"
#include "daemon/replay/mistake.h"
#include "daemon/text/print.h"
#include "tripline/page_script.h"

#include <algorithm>
#include <cmath>

namespace tripline::picture {
namespace {

using replay::to_seconds;
using std::chrono_literals::operator""ms;

constexpr std::size_t most_columns = 200'000;
constexpr Duration column = 5ms;

constexpr auto style =
    "body{font-family:sans-serif;margin:16px;color:#111;background:#fff}h1{font-size:17px}"
    "canvas{width:100%;border:1px solid #555;touch-action:none}#figures{font-variant-numeric:tabular-nums}"
    "button{margin:2px}";

constexpr auto help =
    "<p>Microphone: the band is what was heard, the dashed line the leak expected of the receiver, the dotted line "
    "the threshold that the rest has to pass. Wheel, + and - zoom; drag and the arrow keys move; 0 or a double click "
    "shows all.</p>\n";

constexpr auto policy =
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'unsafe-inline'; "
    "style-src 'unsafe-inline'\">\n";

/// 0 for none, else half decibels from -127 dBFS up.
unsigned char byte_of(bool filled, double dbfs) {
    return filled ? static_cast<unsigned char>(std::clamp(std::round((dbfs + 127.5) * 2), 1.0, 255.0)) : 0;
}

std::string base64(const std::vector<unsigned char>& bytes) {
    constexpr auto digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::size_t there = std::min<std::size_t>(3, bytes.size() - i);
        unsigned bits = 0;
        for (std::size_t k = 0; k < 3; ++k) bits = bits << 8U | (k < there ? bytes[i + k] : 0U);
        for (std::size_t k = 0; k < 4; ++k) text += k <= there ? digits[bits >> (18 - 6 * k) & 63U] : '=';
    }
    return text;
}

std::string series(const char* name, const std::vector<Column>& columns, Extent Column::*figure, double Extent::*end) {
    std::vector<unsigned char> bytes;
    for (const Column& c : columns) bytes.push_back(byte_of(c.filled, c.*figure.*end));
    return print(",\"%s\":\"", name) + base64(bytes) + '"';
}

std::string spans_text(const char* name, const replay::Spans& spans) {
    std::string text;
    for (const auto& s : spans) text += print("%s[%.3f,%.3f]", text.empty() ? "" : ",", to_seconds(s.begin), to_seconds(s.end));
    return print(",\"%s\":[", name) + text + ']';
}

replay::Spans voice_spans(const std::vector<Column>& columns, Duration length) {
    const double each = static_cast<double>(length.count()) / static_cast<double>(columns.size());
    const auto time = [&](std::size_t at) { return Duration{std::llround(each * static_cast<double>(at))}; };
    replay::Spans spans;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (!columns[i].voice) continue;
        if (!spans.empty() && spans.back().end == time(i)) spans.back().end = time(i + 1);
        else spans.push_back({time(i), time(i + 1)});
    }
    return spans;
}

std::string mistakes_text(const std::vector<replay::Mistake>& mistakes) {
    std::string text;
    for (const auto& m : mistakes) {
        text += print("%s[%.3f,%.3f,\"%s\"]", text.empty() ? "" : ",", to_seconds(m.at.begin), to_seconds(m.at.end),
                      std::string(name(m.kind)).c_str());
    }
    return ",\"mistakes\":[" + text + ']';
}

std::string data_text(const replay::Result& result, const replay::Spans& speech, const std::vector<Column>& columns,
                      const std::vector<replay::Mistake>& mistakes) {
    replay::Spans keyed;
    for (const auto& spell : result.spells) keyed.push_back({spell.keyed, spell.released});
    return print("{\"seconds\":%.6f,\"columns\":%zu,\"lowest\":%g", to_seconds(result.length), columns.size(), lowest_dbfs(columns)) +
           series("microphoneLow", columns, &Column::microphone, &Extent::low) +
           series("microphoneHigh", columns, &Column::microphone, &Extent::high) +
           series("receiverLow", columns, &Column::receiver, &Extent::low) +
           series("receiverHigh", columns, &Column::receiver, &Extent::high) +
           series("leak", columns, &Column::leak, &Extent::high) +
           series("threshold", columns, &Column::threshold, &Extent::high) + spans_text("labels", speech) +
           spans_text("voice", voice_spans(columns, result.length)) + spans_text("keyed", keyed) + mistakes_text(mistakes) + '}';
}

std::string button(const replay::Span& at, const std::string& text) {
    return print("<button data-from=\"%.3f\" data-to=\"%.3f\">", to_seconds(at.begin), to_seconds(at.end)) + text + "</button>\n";
}

std::string buttons(const replay::Result& result, const std::vector<replay::Mistake>& mistakes) {
    std::string text = "<p>Transmissions:\n";
    for (const auto& s : result.spells) text += button({s.keyed, s.released}, print("%.1f s", to_seconds(s.keyed)));
    text += "</p>\n";
    if (mistakes.empty()) return text;
    text += "<p>Mistakes:\n";
    for (const auto& m : mistakes) text += button(m.at, std::string(name(m.kind)) + print(" %.1f s", to_seconds(m.at.begin)));
    return text + "</p>\n";
}

}  // namespace

std::size_t page_columns(Duration length) {
    return std::clamp<std::size_t>(static_cast<std::size_t>(length / column), 1, most_columns);
}

std::string replay_page(const replay::Result& result, const std::optional<replay::Spans>& speech,
                        const Columns& columns) {
    const auto mistakes = speech ? replay::mistakes(*speech, result.spells, result.timing) : std::vector<replay::Mistake>{};
    const std::string title = xml_text(result.file + ": " + summary(result));
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" + std::string(policy) + "<title>" +
           title + "</title>\n<style>" + style + "</style>\n</head>\n<body>\n<h1>" + title + "</h1>\n" + help +
           "<canvas id=\"view\" tabindex=\"0\" role=\"img\" aria-label=\"Levels over time\"></canvas>\n"
           "<p id=\"figures\">&#160;</p>\n" + buttons(result, mistakes) + "<script type=\"application/json\" id=\"data\">" +
           data_text(result, speech.value_or(replay::Spans{}), columns.all(), mistakes) + "</script>\n<script>\n" +
           page_script + "</script>\n</body>\n</html>\n";
}

}  // namespace tripline::picture
