#include "config/bare_text.h"

#include <algorithm>

namespace tripline::config {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

}  // namespace

std::size_t past_string(std::string_view text, std::size_t at) {
    const char quote = text[at];
    const bool many_lines = text.substr(at, 3) == std::string_view(quote == '"' ? R"(""")" : "'''");
    const auto mark = text.substr(at, many_lines ? 3 : 1);
    for (at += mark.size(); at < text.size(); ++at) {
        if (quote == '"' && text[at] == '\\' && (many_lines || text.substr(at + 1, 1) != "\n")) {
            ++at;
        } else if (!many_lines && text[at] == '\n') {
            return at;
        } else if (text.substr(at).starts_with(mark)) {
            at += mark.size();
            // Up to two more quotes belong to a string of many lines.
            for (int more = 0; many_lines && more < 2 && at < text.size() && text[at] == quote; ++more) ++at;
            return at;
        }
    }
    return text.size();
}

std::size_t first_beyond_ascii(std::string_view text) {
    std::size_t at = text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
    while (at < text.size()) {
        if (text[at] == '#') {
            at = std::min(text.find('\n', at), text.size());
        } else if (text[at] == '"' || text[at] == '\'') {
            at = past_string(text, at);
        } else if (static_cast<unsigned char>(text[at]) > 127) {
            return at;
        } else {
            ++at;
        }
    }
    return text.size();
}

}  // namespace tripline::config
