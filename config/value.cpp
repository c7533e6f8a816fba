#include "config/value.h"

#include <array>
#include <charconv>
#include <cmath>

namespace tripline::config {
namespace {

std::string number_text(double number) {
    if (std::isnan(number)) return "nan";
    if (std::isinf(number)) return number < 0 ? "-inf" : "inf";
    std::array<char, 32> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), number + 0.0).ptr;  // -0 as 0
    return {text.data(), end};
}

bool is_control(unsigned char c) { return c < 0x20 || c == 0x7f; }

std::string escaped(unsigned char c) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    return std::string("\\u00") + digits[c >> 4U] + digits[c & 15U];
}

struct Text {
    std::string operator()(bool value) const { return value ? "true" : "false"; }
    std::string operator()(std::int64_t value) const { return std::to_string(value); }
    std::string operator()(double value) const { return number_text(value); }
    std::string operator()(const std::string& value) const { return config::quoted(value); }
    std::string operator()(const Foreign& value) const { return value.type; }
};

struct TypeName {
    std::string operator()(bool) const { return "true or false"; }
    std::string operator()(std::int64_t) const { return "a whole number"; }
    std::string operator()(double) const { return "a number"; }
    std::string operator()(const std::string&) const { return "text"; }
    std::string operator()(const Foreign& value) const { return value.type; }
};

}  // namespace

std::string quoted(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (is_control(static_cast<unsigned char>(c))) {
            out += escaped(static_cast<unsigned char>(c));
            continue;
        }
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    return out + '"';
}

std::string to_toml(const Value& value) { return std::visit(Text{}, value); }

std::string shortened(const Value& value) {
    constexpr std::size_t longest = 40;
    const auto* text = std::get_if<std::string>(&value);
    if (!text || text->size() <= longest) return to_toml(value);
    auto end = longest;
    while (end > 0 && (static_cast<unsigned char>((*text)[end]) & 0xC0U) == 0x80U) --end;
    return config::quoted(text->substr(0, end)) + "...";
}

std::string type_name(const Value& value) { return std::visit(TypeName{}, value); }

}  // namespace tripline::config
