#include "config/wrap.h"

namespace tripline::config {

std::string wrap(std::string_view text, std::string_view prefix, std::size_t width) {
    std::string out;
    while (prefix.size() + text.size() > width) {
        const auto room = width > prefix.size() ? width - prefix.size() : 0;
        auto space = text.rfind(' ', room);
        if (space == std::string_view::npos) space = text.find(' ');
        if (space == std::string_view::npos) break;
        out.append(prefix).append(text.substr(0, space)) += '\n';
        text.remove_prefix(space + 1);
    }
    return out.append(prefix).append(text) += '\n';
}

}  // namespace tripline::config
