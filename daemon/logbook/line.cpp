#include "daemon/logbook/line.h"

#include "daemon/station/names.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>

namespace tripline::logbook {
namespace {

using Json = nlohmann::ordered_json;
using station::Reason;

double tenths(Power power) { return std::round(to_dbfs(power).value * 10) / 10 + 0.0; }

Reason reason_named(const std::string& text) {
    for (auto i = static_cast<int>(Reason::none); i <= static_cast<int>(Reason::refused); ++i) {
        if (text == station::name(static_cast<Reason>(i))) return static_cast<Reason>(i);
    }
    return Reason::none;
}

std::optional<Over> over_of(const Json& line) {
    const auto began = time_of(line.value("began", std::string()));
    if (!began) return std::nullopt;
    Over over;
    over.number = line.value("over", std::uint64_t{0});
    over.began = *began;
    over.length = std::chrono::milliseconds(std::llround(std::clamp(line.value("length_s", 0.0), 0.0, 1e6) * 1000));
    over.keyed_by = reason_named(line.value("keyed_by", std::string()));
    over.ended_by = reason_named(line.value("ended_by", std::string()));
    over.peak = to_power({line.value("peak_dbfs", -200.0)});
    return over;
}

bool take_mark(const Json& line, std::vector<Over>& overs) {
    const auto mark = mark_named(line.value("as", std::string()));
    if (!mark) return false;
    const auto marked = std::ranges::find(overs, line.value("mark", std::uint64_t{0}), &Over::number);
    if (marked != overs.end()) marked->mark = *mark;
    return true;
}

/// False: nothing of a log.
bool take(const Json& line, Log& log) {
    if (!line.is_object()) return false;
    if (line.contains("mark")) return take_mark(line, log.overs);
    if (line.contains("missed")) {
        const auto at = time_of(line.value("missed", std::string()));
        if (at) log.missed.push_back(*at);
        return at.has_value();
    }
    const auto over = over_of(line);
    if (over) log.overs.push_back(*over);
    return over.has_value();
}

}  // namespace

std::string time_text(WallTime time) {
    const auto whole = std::chrono::floor<std::chrono::seconds>(time);
    const std::time_t seconds = whole.time_since_epoch().count();
    std::tm parts{};
    ::gmtime_r(&seconds, &parts);
    char date[32], text[48];
    std::strftime(date, sizeof date, "%Y-%m-%dT%H:%M:%S", &parts);
    std::snprintf(text, sizeof text, "%s.%03dZ", date, static_cast<int>((time - whole).count()));
    return text;
}

std::optional<WallTime> time_of(const std::string& text) {
    std::tm parts{};
    int ms = 0;
    const int read = std::sscanf(text.c_str(), "%4d-%2d-%2dT%2d:%2d:%2d.%3dZ", &parts.tm_year, &parts.tm_mon,
                                 &parts.tm_mday, &parts.tm_hour, &parts.tm_min, &parts.tm_sec, &ms);
    if (read != 7) return std::nullopt;
    parts.tm_year -= 1900;
    parts.tm_mon -= 1;
    return WallTime(std::chrono::seconds(::timegm(&parts)) + std::chrono::milliseconds(ms));
}

std::string over_line(const Over& over) {
    Json line;
    line["over"] = over.number;
    line["began"] = time_text(over.began);
    line["length_s"] = static_cast<double>(over.length.count()) / 1000;
    line["keyed_by"] = station::name(over.keyed_by);
    line["ended_by"] = station::end_name(over.ended_by);
    line["peak_dbfs"] = tenths(over.peak);
    return line.dump();
}

std::string mark_line(std::uint64_t over, Mark mark) { return Json{{"mark", over}, {"as", name(mark)}}.dump(); }

std::string missed_line(WallTime at) { return Json{{"missed", time_text(at)}}.dump(); }

Log read_log(std::string_view text) {
    Log log;
    for (std::size_t begin = 0; begin < text.size();) {
        const auto end = std::min(text.find('\n', begin), text.size());
        const Json line = Json::parse(text.substr(begin, end - begin), nullptr, false);
        begin = end + 1;
        try {
            if (!take(line, log)) ++log.strange;
        } catch (const Json::exception&) {  // a member of another kind
            ++log.strange;
        }
    }
    return log;
}

std::string over_text(const Over& over) {
    const std::string mark = over.mark == Mark::none ? "" : "  marked " + std::string(name(over.mark));
    char text[160];
    std::snprintf(text, sizeof text, "%6llu  %s  %7.1f s  %-10s to %-12s peak %6.1f dBFS%s",
                  static_cast<unsigned long long>(over.number), time_text(over.began).c_str(),
                  static_cast<double>(over.length.count()) / 1000, std::string(station::name(over.keyed_by)).c_str(),
                  std::string(station::end_name(over.ended_by)).c_str(), to_dbfs(over.peak).value,
                  mark.c_str());
    return text;
}

std::string missed_text(WallTime at) {
    return std::string(8, ' ').append(time_text(at)).append("  missed: spoken, and nothing was keyed");
}

std::string csv_line(const Over& over) {
    char text[160];
    std::snprintf(text, sizeof text, "%llu,%s,%.3f,%s,%s,%.1f,%s", static_cast<unsigned long long>(over.number),
                  time_text(over.began).c_str(), static_cast<double>(over.length.count()) / 1000,
                  std::string(station::name(over.keyed_by)).c_str(), std::string(station::end_name(over.ended_by)).c_str(),
                  to_dbfs(over.peak).value, std::string(name(over.mark)).c_str());
    return text;
}

std::string csv_line(WallTime missed) { return std::string(",").append(time_text(missed)).append(",,,,,").append(name(Mark::missed)); }

}  // namespace tripline::logbook
