#include "daemon/replay/memory_file.h"

#include "config/file_text.h"
#include "tripline/version.h"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>

namespace tripline::replay {
namespace {

constexpr std::size_t bytes_a_line = 48;
constexpr std::size_t most_bytes = 1 << 20;
constexpr std::size_t most_text = 3 * most_bytes;   // two digits a byte, and the line breaks

std::string head(Hertz rate) {
    return std::string("tripline memory, version ") + version + ", " + std::to_string(std::lround(rate.value)) + " Hz";
}

bool is_control(char c) { return static_cast<unsigned char>(c) < ' ' || c == '\x7f'; }

int digit(char c) {
    const std::string_view digits = "0123456789abcdef";
    const auto at = digits.find(c);
    return at == std::string_view::npos ? -1 : static_cast<int>(at);
}

}  // namespace

std::string memory_text(Hertz rate, const std::vector<std::byte>& bytes) {
    std::string text = head(rate);
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        if (i % bytes_a_line == 0) text += '\n';
        const auto value = std::to_integer<unsigned>(bytes[i]);
        text += "0123456789abcdef"[value >> 4U];
        text += "0123456789abcdef"[value & 15U];
    }
    return text + '\n';
}

std::vector<std::byte> read_memory(const std::filesystem::path& file, Hertz rate) {
    const auto refuse = [&](const std::string& reason) { throw std::runtime_error(file.string() + ": " + reason); };
    const auto text = config::read_file_text(file, most_text);
    if (!text.error.empty()) refuse(text.error);
    if (text.content.size() > most_text) refuse("is no memory of a capture");
    std::istringstream in(text.content);
    std::string line;
    if (!std::getline(in, line)) refuse("cannot be read");
    if (!line.starts_with("tripline memory, ") || std::ranges::any_of(line, is_control)) refuse("is no memory of a capture");
    if (line != head(rate)) refuse("begins with \"" + line.substr(0, 80) + "\", not with \"" + head(rate) + '"');
    std::vector<std::byte> bytes;
    while (std::getline(in, line)) {
        if (line.size() % 2 != 0 || bytes.size() > most_bytes) refuse("is damaged");
        for (std::size_t i = 0; i < line.size(); i += 2) {
            const int high = digit(line[i]);
            const int low = digit(line[i + 1]);
            if (high < 0 || low < 0) refuse("is damaged");
            bytes.push_back(static_cast<std::byte>(16 * high + low));
        }
    }
    if (bytes.empty()) refuse("is empty");
    return bytes;
}

}  // namespace tripline::replay
