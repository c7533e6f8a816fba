#include "config/broken_line.h"

#include <algorithm>

namespace tripline::config {
namespace {

constexpr std::string_view blanks = " \t\r";

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

/// Of a line "[table]", or empty.
std::string_view header(std::string_view line) {
    const auto inner = line.substr(0, line.find(']'));
    return inner.size() < line.size() && inner.starts_with('[') ? trimmed(inner.substr(1)) : "";
}

std::string path_of(std::string_view table, std::string_view key) {
    return table.empty() ? std::string(key) : std::string(table) + '.' + std::string(key);
}

}  // namespace

BrokenLine broken_line(std::string_view text, unsigned line) {
    std::string_view table;
    std::string_view body;
    for (unsigned n = 0; n < line; ++n) {
        const auto end = std::min(text.find('\n'), text.size());
        body = trimmed(text.substr(0, end));
        if (body.starts_with('[')) table = header(body);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    const auto equals = body.find('=');
    if (equals == std::string_view::npos || equals == 0) return {};
    const auto value = body.substr(equals + 1);
    return {path_of(table, trimmed(body.substr(0, equals))), std::string(trimmed(value.substr(0, value.find('#'))))};
}

unsigned line_of(std::string_view text, std::string_view path) {
    std::string_view table;
    for (unsigned line = 1; !text.empty(); ++line) {
        const auto end = std::min(text.find('\n'), text.size());
        const auto body = trimmed(text.substr(0, end));
        if (body.starts_with('[')) table = header(body);
        const auto equals = body.find('=');
        if (equals != std::string_view::npos && path_of(table, trimmed(body.substr(0, equals))) == path) return line;
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return 0;
}

}  // namespace tripline::config
