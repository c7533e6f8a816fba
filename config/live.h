// Which settings may be changed while the station runs, from a desk rather than in the file.
#pragma once

#include "config/key.h"

namespace tripline::config {

/// What the operator's ear is about. Devices, lines and limits belong into the file alone.
inline bool changes_live(const Key& key) {
    const auto table = table_of(key.path);
    return key.touches == Touches::engine && !table.starts_with("line.") && table != "limits" && table != "station" &&
           table != "black_box";
}

/// What is wrong with one "key=value" whatever the other settings are, in words without a place,
/// with what is allowed or was meant; or empty.
std::string fault_of_one(std::string_view setting);

}  // namespace tripline::config
