#include "daemon/replay/labels.h"

#include "config/file_text.h"

#include <charconv>
#include <cmath>
#include <iomanip>
#include <sstream>
#include <stdexcept>

namespace tripline::replay {
namespace {

constexpr std::size_t field_count = 10;
constexpr std::size_t largest_file = 64 << 20;  ///< bytes: a million lines
constexpr double longest_s = 1e7;   ///< beyond this a time is a mistake

/// Where we are, for messages.
struct Place {
    std::string_view origin;
    std::size_t line;
};

[[noreturn]] void reject(const Place& place, const std::string& reason) {
    throw std::runtime_error(std::string(place.origin) + ":" + std::to_string(place.line) + ": " +
                             reason);
}

std::string in_quotes(std::string_view text) {
    constexpr std::size_t most = 40;
    std::string out = "\"";
    for (const char c : text.substr(0, most)) out += c >= ' ' && c <= '~' ? c : '?';
    return out + (text.size() > most ? "...\"" : "\"");
}

std::vector<std::string_view> split(std::string_view line) {
    std::vector<std::string_view> fields;
    constexpr std::string_view blanks = " \t\r";
    for (std::size_t at = line.find_first_not_of(blanks); at != std::string_view::npos;) {
        const std::size_t end = std::min(line.find_first_of(blanks, at), line.size());
        fields.push_back(line.substr(at, end - at));
        at = line.find_first_not_of(blanks, end);
    }
    return fields;
}

Duration parse_seconds(std::string_view text, std::string_view what, const Place& place) {
    double seconds = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), seconds);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(seconds)) {
        reject(place, std::string(what) + " " + in_quotes(text) + " is not a number of seconds");
    }
    if (seconds < 0) reject(place, std::string(what) + " " + in_quotes(text) + " is negative");
    if (seconds > longest_s) reject(place, std::string(what) + " " + in_quotes(text) + " is too large");
    return Duration{std::llround(seconds * 1e9)};
}

int parse_channel(std::string_view text, const Place& place) {
    int channel = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), channel);
    if (error != std::errc{} || end != text.data() + text.size() || channel < 1 || channel > 1024) {
        reject(place, "channel " + in_quotes(text) + " is not a number from 1 to 1024");
    }
    return channel;
}

Label parse_line(const std::vector<std::string_view>& fields, const Place& place) {
    if (fields.front() != "SPEAKER") {
        reject(place, "type " + in_quotes(fields.front()) + " is not SPEAKER");
    }
    if (fields.size() != field_count) {
        reject(place, "10 fields expected, " + std::to_string(fields.size()) + " found");
    }
    return {std::string(fields[1]), parse_channel(fields[2], place),
            parse_seconds(fields[3], "onset", place), parse_seconds(fields[4], "duration", place),
            std::string(fields[7])};
}

}  // namespace

std::vector<Label> parse_labels(std::istream& text, std::string_view origin) {
    std::vector<Label> labels;
    Place place{origin, 0};
    for (std::string line; std::getline(text, line);) {
        ++place.line;
        const auto fields = split(line);
        if (fields.empty() || fields.front().starts_with(';')) continue;
        labels.push_back(parse_line(fields, place));
    }
    if (text.bad()) throw std::runtime_error(std::string(origin) + ": cannot be read to its end");
    return labels;
}

std::vector<Label> read_labels(const std::filesystem::path& path) {
    const auto file = config::read_file_text(path, largest_file);
    if (!file.error.empty()) throw std::runtime_error(path.string() + ": " + file.error);
    if (file.content.size() > largest_file) throw std::runtime_error(path.string() + ": is larger than 64 MiB: not labels");
    std::istringstream text(file.content);
    return parse_labels(text, path.string());
}

void write_labels(std::ostream& text, const std::vector<Label>& labels) {
    const auto seconds = [](Duration d) { return std::chrono::duration<double>(d).count(); };
    text << std::fixed << std::setprecision(3);
    for (const Label& label : labels) {
        text << "SPEAKER " << label.file << ' ' << label.channel << ' ' << seconds(label.onset) << ' '
             << seconds(label.length) << " <NA> <NA> " << label.name << " <NA> <NA>\n";
    }
}

}  // namespace tripline::replay
