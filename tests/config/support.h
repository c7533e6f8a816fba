// Short ways to say what the tests of the configuration say often.
#pragma once

#include "config/keys.h"
#include "config/load.h"
#include "config/write.h"

#include <cstdint>
#include <string>

namespace tripline::config {

/// All problems, a line each.
inline std::string messages(const Loaded& loaded) {
    std::string text;
    for (const auto& problem : loaded.problems) text += to_string(problem) + '\n';
    return text;
}

inline std::string messages_of(std::string_view file, const Overlays& overlays = {}) {
    return messages(load_text(file, "station.toml", overlays));
}

/// "gate.open_dbfs = -50": a dotted key stands for its table.
inline std::string setting(const Key& key, const Value& value) {
    return key.path + " = " + to_toml(value) + '\n';
}

/// What has to be set beside a key for its value to mean something.
inline std::string companions_of(const Key& key) {
    if (key.type != Type::pin) return {};
    return std::string(table_of(key.path)) + ".kind = \"gpio\"\n";
}

/// "a, b, c" with the keys that differ.
inline std::string changed_keys(const Settings& from, const Settings& to) {
    std::string text;
    for (const auto& change : differences(from, to)) text += (text.empty() ? "" : ", ") + change.path;
    return text;
}

}  // namespace tripline::config
