#include "daemon/cli/time_option.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace tripline::cli {
namespace {

constexpr double longest_s = 1e6;

std::optional<double> number_in(std::string_view text) {
    double number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number, std::chars_format::fixed);
    const bool good = error == std::errc() && end == text.data() + text.size() && number >= 0 && number < longest_s;
    return good ? std::optional(number) : std::nullopt;
}

}  // namespace

std::optional<Duration> time_in(const std::string& text) {
    double seconds = 0;
    std::string_view rest = text;
    for (int part = 0; part < 3; ++part) {
        const auto colon = rest.find(':');
        const auto number = number_in(rest.substr(0, colon));
        if (!number || (part > 0 && *number >= 60)) return std::nullopt;
        seconds = seconds * 60 + *number;
        if (colon == std::string_view::npos) {
            return std::chrono::duration_cast<Duration>(std::chrono::duration<double>(seconds));
        }
        if (*number != std::floor(*number)) return std::nullopt;
        rest.remove_prefix(colon + 1);
    }
    return std::nullopt;
}

Duration exactness_of(const std::string& ago) {
    const auto time = time_in(ago);
    if (!time || ago.find('.') != std::string::npos) return Duration::zero();
    return std::max<Duration>(std::chrono::seconds{1}, *time / 10);
}

}  // namespace tripline::cli
