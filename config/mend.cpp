#include "config/mend.h"

#include "config/open_value.h"

#include <algorithm>
#include <cctype>
#include <optional>
#include <string_view>

namespace tripline::config {
namespace {

bool is_bare(char letter) {
    const auto c = static_cast<unsigned char>(letter);
    return (c < 0x80 && std::isalnum(c) != 0) || c == '_' || c == '-';
}

/// "[station" as "[station]"; empty where that is what stands there, or no name does.
std::string mended_header(std::string_view body) {
    std::string_view rest = body.substr(1);
    rest.remove_prefix(std::min(rest.find_first_not_of(" \t["), rest.size()));
    const auto end = std::find_if_not(rest.begin(), rest.end(), [](char c) { return is_bare(c) || c == '.'; });
    const std::string name(rest.begin(), end);
    const bool plain = !name.empty() && name.front() != '.' && name.back() != '.' && name.find("..") == std::string::npos;
    const std::string mended = '[' + name + ']';
    return plain && !body.starts_with(mended) ? mended : std::string();
}

/// "(station):" as "station".
std::string_view without_marks(std::string_view words) {
    constexpr std::string_view marks = "()<>: \t\r";
    words.remove_prefix(std::min(words.find_first_not_of(marks), words.size()));
    return words.substr(0, words.find_last_not_of(marks) + 1);
}

/// Of a line without blanks before it: what may stand in its place; nothing for none.
std::optional<std::string> in_place_of(std::string_view body, const IsTable& is_table) {
    if (body.front() == '[') {
        const std::string header = mended_header(body);
        return header.empty() ? std::nullopt : std::optional(header);
    }
    if (is_bare(body.front()) && body.find('=') != std::string_view::npos) {
        return left_open(std::string(body) + '\n') ? std::nullopt : std::optional(std::string());
    }
    if (body.find_first_of("=\"'[]{}") != std::string_view::npos) return std::nullopt;
    const std::string name(without_marks(body));
    return !name.empty() && is_table(name) ? '[' + name + ']' : std::string();
}

}  // namespace

bool mend_line(std::string& text, unsigned line, const IsTable& is_table) {
    std::size_t begin = 0;
    for (unsigned n = 1; n < line && begin != std::string::npos; ++n) {
        begin = text.find('\n', begin);
        if (begin != std::string::npos) ++begin;
    }
    if (line == 0 || begin == std::string::npos) return false;
    const auto end = std::min(text.find('\n', begin), text.size());
    const std::string_view all(text.data() + begin, end - begin);
    const auto first = all.find_first_not_of(" \t");
    if (first == std::string_view::npos) return false;
    const auto instead = in_place_of(all.substr(first), is_table);
    if (!instead) return false;
    text.replace(begin, end - begin, *instead);
    return true;
}

}  // namespace tripline::config
