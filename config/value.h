// A value as a TOML file gives it.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>

namespace tripline::config {

/// Something no key takes: a table, an array, a date.
struct Foreign {
    std::string type;
    bool operator==(const Foreign&) const = default;
};

using Value = std::variant<bool, std::int64_t, double, std::string, Foreign>;

/// As it stands in a TOML file. Numbers are the shortest text that reads back to the same bits;
/// a whole one is written without a point.
std::string to_toml(const Value& value);

/// A TOML basic string: quoted, with control characters escaped. Takes valid UTF-8.
std::string quoted(std::string_view text);

/// The same for a message: cut after 40 characters.
std::string shortened(const Value& value);

/// "a whole number", "text" ...: for messages.
std::string type_name(const Value& value);

}  // namespace tripline::config
