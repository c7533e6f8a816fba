#include "config/meant_number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string>

namespace tripline::config {
namespace {

struct Written {
    std::string_view of_key;  ///< the key's unit
    std::string_view word;    ///< in small letters
    double factor;            ///< from the word's unit to the key's
};
constexpr std::array known_units{
    Written{"ms", "ms", 1.0},     Written{"ms", "s", 1e3},      Written{"ms", "sec", 1e3}, Written{"ms", "min", 6e4},
    Written{"ms", "us", 1e-3},    Written{"s", "s", 1.0},       Written{"s", "sec", 1.0},  Written{"s", "ms", 1e-3},
    Written{"s", "min", 60.0},    Written{"s", "h", 3600.0},    Written{"Hz", "hz", 1.0},  Written{"Hz", "khz", 1e3},
    Written{"dB", "db", 1.0},     Written{"dBFS", "dbfs", 1.0}, Written{"dBFS", "db", 1.0}, Written{"percent", "%", 1.0},
    Written{"percent", "percent", 1.0}};

std::optional<double> factor_of(const Key& key, std::string word) {
    if (word.empty()) return 1.0;
    std::transform(word.begin(), word.end(), word.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    const auto known = std::find_if(known_units.begin(), known_units.end(), [&](const Written& unit) { return unit.of_key == key.unit && unit.word == word; });
    return known == known_units.end() ? std::nullopt : std::optional(known->factor);
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    return first == std::string_view::npos ? std::string_view() : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// What is left of 1.1 s in ms is 1100, not 1100.0000000000002.
double without_dust(double number) { return std::round(number * 1e9) / 1e9; }

}  // namespace

std::optional<MeantNumber> meant_number(const Key& key, std::string_view written) {
    constexpr std::size_t longest = 40;
    constexpr double most = 1e9;
    if ((key.type != Type::number && key.type != Type::whole) || written.size() > longest) return std::nullopt;
    std::string text(trimmed(written));
    MeantNumber meant;
    if (const auto comma = text.find(','); comma != std::string::npos) {
        text[comma] = '.';
        meant.comma = true;
    }
    if (text.starts_with('+')) text.erase(0, 1);
    double number = 0.0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
    if (read.ec != std::errc() || !(std::abs(number) <= most)) return std::nullopt;
    const std::string word(trimmed(std::string_view(read.ptr, static_cast<std::size_t>(text.data() + text.size() - read.ptr))));
    const auto factor = factor_of(key, word);
    if (!factor) return std::nullopt;
    meant.unit = !word.empty();
    number = without_dust(number * *factor);
    if (key.type == Type::whole && number == std::floor(number)) {
        meant.value = static_cast<std::int64_t>(number);
    } else {
        meant.value = number;
    }
    return meant;
}

std::optional<Value> meant_below_zero(const Key& key, const Value& written) {
    const auto* whole = std::get_if<std::int64_t>(&written);
    const auto* number = std::get_if<double>(&written);
    const bool over = (whole && *whole > 0) || (number && *number > 0);
    if (!over || key.unit != "dBFS") return std::nullopt;
    const Value meant = whole ? Value(-*whole) : Value(-*number);
    return check(key, {}, meant).empty() ? std::optional(meant) : std::nullopt;
}

}  // namespace tripline::config
