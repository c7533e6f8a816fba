#include "config/mend.h"

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

/// Of a line without blanks before it: what may stand in its place; nothing for none.
std::optional<std::string> in_place_of(std::string_view body) {
    if (body.front() == '[') {
        const std::string header = mended_header(body);
        return header.empty() ? std::nullopt : std::optional(header);
    }
    const bool pair = is_bare(body.front()) && body.find('=') != std::string_view::npos;
    const bool words = body.find_first_of("=\"'[]{}") == std::string_view::npos;
    return pair || words ? std::optional(std::string()) : std::nullopt;
}

}  // namespace

bool mend_line(std::string& text, unsigned line) {
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
    const auto instead = in_place_of(all.substr(first));
    if (!instead) return false;
    text.replace(begin, end - begin, *instead);
    return true;
}

}  // namespace tripline::config
