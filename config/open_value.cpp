#include "config/open_value.h"

#include "config/bare_text.h"

#include <algorithm>
#include <vector>

namespace tripline::config {
namespace {

bool is_first_of_its_line(std::string_view text, std::size_t at) {
    const auto before = text.substr(0, at).find_last_not_of(" \t");
    return before == std::string_view::npos || text[before] == '\n';
}

}  // namespace

std::optional<std::size_t> left_open(std::string_view lines) {
    std::vector<std::size_t> open;
    std::size_t at = 0;
    while (at < lines.size()) {
        const char letter = lines[at];
        const bool header = letter == '[' && open.empty() && is_first_of_its_line(lines, at);
        if (letter == '#' || header) {
            at = std::min(lines.find('\n', at), lines.size());
            continue;
        }
        if (letter == '"' || letter == '\'') {
            const auto end = past_string(lines, at);
            if (end == lines.size()) return open.empty() ? at : open.front();
            at = end;
            continue;
        }
        if (letter == '[' || letter == '{') open.push_back(at);
        if ((letter == ']' || letter == '}') && !open.empty()) open.pop_back();
        ++at;
    }
    return open.empty() ? std::nullopt : std::optional(open.front());
}

std::size_t past_lines(std::string_view text, std::size_t at) {
    const auto first = text.find_first_not_of(" \t", at);
    const bool header = first != std::string_view::npos && text[first] == '[';
    for (int open = 0; at < text.size() && (open > 0 || text[at] != '\n');) {
        const char letter = text[at];
        if (letter == '#' || header) {
            at = std::min(text.find('\n', at), text.size());
        } else if (letter == '"' || letter == '\'') {
            at = past_string(text, at);
        } else {
            if (letter == '[' || letter == '{') ++open;
            if ((letter == ']' || letter == '}') && open > 0) --open;
            ++at;
        }
    }
    return std::min(at + 1, text.size());
}

}  // namespace tripline::config
