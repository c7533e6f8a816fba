#include "config/key.h"

#include <algorithm>
#include <array>
#include <utility>

namespace tripline::config {
namespace {

constexpr std::size_t longest_text = 255;

struct Unit {
    std::string_view ending;
    std::string_view name;
};
constexpr std::array units{Unit{"_dbfs", "dBFS"}, Unit{"_db", "dB"}, Unit{"_hz", "Hz"},
                           Unit{"_ms", "ms"}, Unit{"_s", "s"}};

const Unit* find_unit(std::string_view path) {
    const auto* found =
        std::find_if(units.begin(), units.end(), [&](auto& u) { return path.ends_with(u.ending); });
    return found == units.end() ? nullptr : found;
}

std::string range_text(const Key& key) {
    auto text = to_toml(key.range.least) + " to " + to_toml(key.range.most);
    return key.unit.empty() ? text : text + ' ' + key.unit;
}

std::string choices_text(const std::vector<std::string>& choices) {
    std::string text;
    for (const auto& choice : choices) text += (text.empty() ? "" : ", ") + config::quoted(choice);
    return text;
}

bool has_type(Type type, const Value& value) {
    const bool whole = std::holds_alternative<std::int64_t>(value);
    const bool text = std::holds_alternative<std::string>(value);
    switch (type) {
        case Type::boolean: return std::holds_alternative<bool>(value);
        case Type::whole: return whole;
        case Type::number: return whole || std::holds_alternative<double>(value);
        case Type::text:
        case Type::choice: return text;
        case Type::pin: return whole || text;
    }
    return false;
}

std::string_view expected(Type type) {
    switch (type) {
        case Type::boolean: return "true or false";
        case Type::whole: return "a whole number";
        case Type::number: return "a number";
        case Type::text:
        case Type::choice: return "text";
        case Type::pin: return "text or a whole number";
    }
    return {};
}

bool in_range(const Range& range, const Value& value) {
    const auto* whole = std::get_if<std::int64_t>(&value);
    const double number = whole ? static_cast<double>(*whole) : std::get<double>(value);
    return number >= range.least && number <= range.most;  // a NaN is in no range
}

bool is_plain(std::string_view text) {
    return text.size() <= longest_text && std::none_of(text.begin(), text.end(), [](char c) {
               return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
           });
}

std::string check_content(const Key& key, const Value& value) {
    switch (key.type) {
        case Type::whole:
        case Type::number:
            return in_range(key.range, value) ? "" : to_toml(value) + " is out of range";
        case Type::text: return is_plain(std::get<std::string>(value)) ? "" : "can't be used";
        case Type::choice: {
            const bool known = std::count(key.choices.begin(), key.choices.end(),
                                          std::get<std::string>(value)) > 0;
            return known ? "" : shortened(value) + " is not one of its values";
        }
        case Type::boolean:
        case Type::pin: break;
    }
    return {};
}

}  // namespace

std::string_view table_of(std::string_view path) {
    const auto dot = path.rfind('.');
    return dot == std::string_view::npos ? std::string_view() : path.substr(0, dot);
}

std::string_view leaf_of(std::string_view path) { return path.substr(path.rfind('.') + 1); }

std::string unit_of(std::string_view path) {
    const auto* unit = find_unit(path);
    return unit ? std::string(unit->name) : std::string();
}

std::string_view stem_of(std::string_view path) {
    const auto* unit = find_unit(path);
    if (unit) path.remove_suffix(unit->ending.size());
    return path;
}

std::string allowed(const Key& key) {
    switch (key.type) {
        case Type::boolean: return "true or false";
        case Type::whole:
        case Type::number: return range_text(key);
        case Type::text: return "text of at most 255 bytes without control characters";
        case Type::choice: return choices_text(key.choices);
        case Type::pin: return R"("rts" or "dtr" (serial), 0 to 1023 (gpio), 1 to 8 (cm108))";
    }
    return {};
}

std::string check(const Key& key, const Settings& settings, const Value& value) {
    if (!has_type(key.type, value)) {
        const bool foreign = std::holds_alternative<Foreign>(value);
        return (foreign ? "is " : shortened(value) + " is ") + type_name(value) + ", not " +
               std::string(expected(key.type));
    }
    auto wrong = check_content(key, value);
    if (wrong.empty() && key.refuse) wrong = key.refuse(settings, value);
    return wrong;
}

}  // namespace tripline::config
