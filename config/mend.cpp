#include "config/mend.h"

#include "config/open_value.h"
#include "config/table_header.h"

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

/// "[station" and "[station]]" as "[station]"; one that is whole, which has its table a second time, as the header of a table
/// given again, and one without a name as that of a nameless table.
std::optional<std::string> header_in_place_of(std::string_view body, unsigned line, bool again) {
    if (is_given_again(body)) return std::nullopt;
    const std::string name = table_name(body), mended = '[' + name + ']', number = std::to_string(line);
    const auto rest = body.starts_with(mended) ? body.find_first_not_of(" \t\r", mended.size()) : 0;
    const bool whole = rest == std::string_view::npos || (rest > 0 && body[rest] == '#');
    if (!name.empty() && !whole) return mended;
    if (!again) return std::nullopt;
    return name.empty() ? nameless_header(number) : header_given_again(body, number);
}

/// "(station):" as "station".
std::string_view without_marks(std::string_view words) {
    constexpr std::string_view marks = "()<>[]{}: \t\r";
    words.remove_prefix(std::min(words.find_first_not_of(marks), words.size()));
    return words.substr(0, words.find_last_not_of(marks) + 1);
}

/// Of a line without blanks before it: what may stand in its place; nothing for none.
std::optional<std::string> in_place_of(std::string_view body, unsigned line, const IsTable& is_table, bool again) {
    if (body.front() == '[') return header_in_place_of(body, line, again);
    if (is_bare(body.front()) && body.find('=') != std::string_view::npos) {
        return left_open(std::string(body) + '\n') ? std::nullopt : std::optional(std::string());
    }
    const std::string name(without_marks(body));
    if (!name.empty() && is_table(name)) return '[' + name + ']';
    return body.find_first_of("=\"'[]{}") == std::string_view::npos ? std::optional(std::string()) : std::nullopt;
}

}  // namespace

bool mend_line(std::string& text, unsigned line, const IsTable& is_table, bool again) {
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
    const auto instead = in_place_of(all.substr(first), line, is_table, again);
    if (!instead) return false;
    text.replace(begin, end - begin, *instead);
    return true;
}

}  // namespace tripline::config
