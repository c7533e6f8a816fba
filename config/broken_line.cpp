#include "config/broken_line.h"

#include "config/open_value.h"
#include "config/table_header.h"

#include <algorithm>

namespace tripline::config {
namespace {

constexpr std::string_view blanks = " \t\r";

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::string path_of(std::string_view table, std::string_view key) {
    return table.empty() ? std::string(key) : std::string(table) + '.' + std::string(key);
}

}  // namespace

BrokenLine broken_line(std::string_view text, unsigned line) {
    std::string table;
    std::string_view body;
    std::size_t at = 0, past = 0;  // of what stands in a value no table is taken
    for (unsigned n = 0; n < line; ++n) {
        const auto end = std::min(text.find('\n', at), text.size());
        body = trimmed(text.substr(at, end - at));
        if (at >= past && body.starts_with('[')) table = table_name(body);
        if (at >= past) past = past_lines(text, at);
        at = std::min(end + 1, text.size());
    }
    const auto equals = body.find('=');
    if (equals == std::string_view::npos || equals == 0 || body.starts_with('[')) return {body, {}, {}};
    const auto value = body.substr(equals + 1);
    return {body, path_of(table, trimmed(body.substr(0, equals))), std::string(trimmed(value.substr(0, value.find('#'))))};
}

unsigned line_of(std::string_view text, std::string_view path) {
    std::string table;
    const std::string below = std::string(path) + '.';
    std::size_t past = 0;
    unsigned line = 1;
    for (std::size_t at = 0; at < text.size(); at = past) {
        const auto body = trimmed(text.substr(at, std::min(text.find('\n', at), text.size()) - at));
        const auto equals = body.find('=');
        std::string here;
        if (body.starts_with('[')) {
            here = table = table_name(body);
        } else if (equals != std::string_view::npos) {
            here = path_of(table, trimmed(body.substr(0, equals)));
        }
        if (here == path || here.starts_with(below)) return line;
        past = past_lines(text, at);
        line += static_cast<unsigned>(std::ranges::count(text.substr(at, past - at), '\n'));
    }
    return 0;
}

}  // namespace tripline::config
