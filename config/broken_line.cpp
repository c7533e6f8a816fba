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
    const auto key = std::string(trimmed(body.substr(0, equals)));
    const auto value = body.substr(equals + 1);
    return {table.empty() ? key : std::string(table) + '.' + key,
            std::string(trimmed(value.substr(0, value.find('#'))))};
}

}  // namespace tripline::config
