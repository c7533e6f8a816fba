#include "daemon/watch/screen.h"

#include <algorithm>

namespace tripline::watch {
namespace {

std::string move_to(std::size_t row, std::size_t column) {
    return "\x1b[" + std::to_string(row + 1) + ';' + std::to_string(column + 1) + 'H';
}

/// Runs of changed characters; a short gap is cheaper to send than to jump over.
std::string line_change(std::size_t row, const std::string& before, const std::string& after) {
    constexpr std::size_t short_gap = 8;
    std::string sent;
    for (std::size_t at = 0; at < after.size();) {
        if (before[at] == after[at]) {
            ++at;
            continue;
        }
        std::size_t end = at + 1;
        for (std::size_t look = end; look < after.size() && look - end < short_gap; ++look) {
            if (before[look] != after[look]) end = look + 1;
        }
        sent += move_to(row, at) + after.substr(at, end - at);
        at = end;
    }
    return sent;
}

}  // namespace

std::string Screen::enter() { return "\x1b[?1049h\x1b[?25l\x1b[2J"; }
std::string Screen::leave() { return "\x1b[?25h\x1b[?1049l"; }

std::string Screen::show(const std::vector<std::string>& lines) {
    std::string sent;
    shown_.resize(std::max(shown_.size(), lines.size()));
    for (std::size_t row = 0; row < shown_.size(); ++row) {
        std::string after = row < lines.size() ? lines[row] : std::string();
        const std::size_t width = std::max(shown_[row].size(), after.size());
        shown_[row].resize(width, ' ');
        after.resize(width, ' ');
        sent += line_change(row, shown_[row], after);
        shown_[row] = std::move(after);
    }
    return sent;
}

}  // namespace tripline::watch
