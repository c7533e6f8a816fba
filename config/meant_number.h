// The number that was meant by one written with a unit, with a comma or as text.
#pragma once

#include "config/key.h"

#include <optional>
#include <string_view>

namespace tripline::config {

struct MeantNumber {
    Value value;         ///< in the key's own unit
    bool comma = false;  ///< decimals follow a comma
    bool unit = false;   ///< a unit follows: "60ms", "2 s", "-45 dBFS"
};

/// Of a key that takes a number, whatever its range; nothing where no number is told, or in a unit that is not the key's kind.
std::optional<MeantNumber> meant_number(const Key& key, std::string_view written);

/// Of a level written without its sign: "gate.open_dbfs = 50"; nothing if it would be out of range with one, too.
std::optional<Value> meant_below_zero(const Key& key, const Value& written);

}  // namespace tripline::config
