#include "config/text_fault.h"

#include "config/utf8.h"

#include <algorithm>

namespace tripline::config {
namespace {

/// Offset of the first byte too many in a line, or the size of the text.
std::size_t first_long_line(std::string_view text) {
    std::size_t start = 0;
    while (start < text.size()) {
        const auto end = std::min(text.find('\n', start), text.size());
        if (end - start > longest_line) return start + longest_line;
        start = end + 1;
    }
    return text.size();
}

}  // namespace

TextFault fault_at(std::string_view text, std::size_t offset, std::string what) {
    const auto before = text.substr(0, offset);
    const auto newline = before.rfind('\n');
    const auto start = newline == std::string_view::npos ? 0 : newline + 1;
    const auto line = 1 + std::count(before.begin(), before.end(), '\n');
    return {static_cast<int>(line), static_cast<int>(offset - start) + 1, std::move(what)};
}

std::optional<TextFault> find_text_fault(std::string_view text) {
    if (text.size() > longest_file) return TextFault{1, 1, "longer than 256 KiB"};
    const auto broken = well_formed_utf8(text);
    if (broken < text.size()) return fault_at(text, broken, "a byte that is not UTF-8");
    const auto long_line = first_long_line(text);
    if (long_line < text.size()) return fault_at(text, long_line, "a line longer than 2048 bytes");
    return std::nullopt;
}

}  // namespace tripline::config
