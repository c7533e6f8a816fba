#include "config/broken_line.h"

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
    for (unsigned n = 0; n < line; ++n) {
        const auto end = std::min(text.find('\n'), text.size());
        body = trimmed(text.substr(0, end));
        if (body.starts_with('[')) table = table_name(body);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    const auto equals = body.find('=');
    if (equals == std::string_view::npos || equals == 0 || body.starts_with('[')) return {body, {}, {}};
    const auto value = body.substr(equals + 1);
    return {body, path_of(table, trimmed(body.substr(0, equals))), std::string(trimmed(value.substr(0, value.find('#'))))};
}

unsigned line_of(std::string_view text, std::string_view path) {
    std::string table;
    const std::string below = std::string(path) + '.';
    for (unsigned line = 1; !text.empty(); ++line) {
        const auto end = std::min(text.find('\n'), text.size());
        const auto body = trimmed(text.substr(0, end));
        const auto equals = body.find('=');
        std::string here;
        if (body.starts_with('[')) {
            here = table = table_name(body);
        } else if (equals != std::string_view::npos) {
            here = path_of(table, trimmed(body.substr(0, equals)));
        }
        if (here == path || here.starts_with(below)) return line;
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return 0;
}

}  // namespace tripline::config
