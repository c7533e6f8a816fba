#include "daemon/watch/picture.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <iterator>
#include <utility>

namespace tripline::watch {
namespace {

constexpr double lowest_dbfs = -80;
constexpr int cells = 48;

/// -1: under the meter's foot.
int cell_of(double dbfs) {
    const double place = (dbfs - lowest_dbfs) / -lowest_dbfs * cells;
    return static_cast<int>(std::floor(std::clamp(place, -1.0, cells - 1.0)));
}

std::string one_decimal(double value) {
    char text[24];
    std::snprintf(text, sizeof text, "%6.1f", value);
    return text;
}

std::string row(const char* name, double level, double peak, double threshold) {
    char text[columns + 16];
    std::snprintf(text, sizeof text, "%-11s%s%s peak%s", name, meter(level, peak, threshold).c_str(),
                  one_decimal(std::max(level, -99.0)).c_str(), one_decimal(std::max(peak, -99.0)).c_str());
    return text;
}

std::string cut(std::string text) {
    if (text.size() > columns) text.resize(columns);
    return text;
}

/// Far below the threshold nothing is left to compare.
std::string margin(const Seen& seen) {
    constexpr double least_db = -100;
    return seen.margin_db < least_db ? "  none   " : one_decimal(seen.margin_db) + " dB";
}

std::string by_hand_text(const Seen& seen) {
    char text[96];
    std::snprintf(text, sizeof text, "ON THE AIR %.1f s by hand: unkey or safe opens the key, else the limit", seen.on_air_s);
    if (seen.longest_over_s <= 0) return text;
    return text + (" in " + std::to_string(std::lround(std::max(seen.longest_over_s - seen.on_air_s, 0.0)))) + " s";
}

}  // namespace

std::string meter(double level_dbfs, double peak_dbfs, double threshold_dbfs) {
    std::string bar(cells, ' ');
    const auto put = [&](int cell, char mark) {
        if (cell >= 0) bar[static_cast<std::size_t>(cell)] = mark;
    };
    for (int cell = cell_of(level_dbfs); cell >= 0; --cell) put(cell, '=');
    put(cell_of(peak_dbfs), '!');
    if (threshold_dbfs >= lowest_dbfs) put(cell_of(threshold_dbfs), '|');
    return '[' + bar + ']';
}

std::string headline(const Seen& seen) {
    if (seen.station != "running") return "NOT READY  " + seen.station;
    if (by_hand(seen)) return by_hand_text(seen);
    if (seen.key) {
        char text[48];
        std::snprintf(text, sizeof text, "ON THE AIR %.1f s%s", seen.on_air_s, seen.state == "hold" ? ", hang time" : "");
        return text;
    }
    if (seen.mode == "safe") return "SAFE       nothing keys";
    if (seen.state == "locked_out" && seen.mode == "keyed") return "LOCKED OUT until the key is forced again or the station armed";
    if (seen.state == "locked_out") return "LOCKED OUT until the microphone is quiet";
    if (seen.state == "rest") return "receiving";
    return "switching  " + seen.state;
}

std::string why(const Seen& seen) {
    static constexpr std::pair<const char*, const char*> words[]{
        {"quiet", "microphone under the threshold"},     {"voice", "a voice above the threshold"},
        {"qualifying", "above the threshold, waiting whether it is a voice"},
        {"masked", "loud enough, but explained by the loudspeaker"},
        {"blanked", "waiting for relays or loudspeaker to settle"},
        {"withheld", "waiting, since the loudspeaker has keyed it of late"},
        {"not_speech", "loud enough, but no voice"},     {"steady", "a steady tone, no voice"},
        {"not_finite", "a sample was no number"}};
    if (by_hand(seen)) return "whatever the microphone hears";
    for (const auto& [cause, text] : words) {
        if (seen.cause == cause) return text;
    }
    return seen.cause;
}

std::string plain_line(const Seen& seen) {
    if (!seen.levels) return headline(seen) + "; mode " + seen.mode;
    char text[256];
    std::snprintf(text, sizeof text, "%s; mode %s; microphone %.1f dBFS, threshold %.1f, receiver %.1f; %s",
                  headline(seen).c_str(), seen.mode.c_str(), seen.microphone_dbfs, seen.threshold_dbfs,
                  seen.receiver_dbfs, why(seen).c_str());
    return text;
}

std::vector<std::string> Picture::meters(const Seen& seen, Duration now) {
    const double microphone = microphone_(seen.microphone_dbfs, now);
    const double receiver = receiver_(seen.receiver_dbfs, now);
    const double leak = leak_(seen.leak_dbfs, now);
    return {
        "dBFS       -80         -60         -40         -20          0",
        row("microphone", seen.microphone_dbfs, microphone, seen.threshold_dbfs),
        row("receiver", seen.receiver_dbfs, receiver, -200),
        row("  expected", seen.leak_dbfs, leak, -200), "",
        "threshold " + one_decimal(seen.threshold_dbfs) + " dBFS   margin " + margin(seen) + "   " + why(seen),
        ""};
}

std::vector<std::string> Picture::operator()(const Seen& seen, Duration now) {
    std::vector<std::string> lines{headline(seen), "mode " + seen.mode + ", last change: " + seen.reason, seen.missing};
    if (seen.levels) std::ranges::move(meters(seen, now), std::back_inserter(lines));
    lines.insert(lines.end(), seen.told.begin(), seen.told.end());
    for (std::string& line : lines) line = cut(std::move(line));
    return lines;
}

}  // namespace tripline::watch
