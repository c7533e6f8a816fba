// Settings given on the command line.
#include "config/keys.h"
#include "config/reader.h"
#include "config/text_fault.h"

namespace tripline::config {
namespace {

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Text may be written without quotes: a shell takes them off.
bool is_unquoted_text(const Key* key, std::string_view value) {
    if (value.starts_with('"') || value.starts_with('\'')) return false;
    if (!key || key->type == Type::text || key->type == Type::choice) return true;
    return key->type == Type::pin && value.find_first_not_of("0123456789") != value.npos;
}

Problem refusal(Origin at, std::string_view key, std::string what) {
    return {std::move(at), std::string(key), std::move(what), {}, {}, Severity::error};
}

}  // namespace

Reading read_overlay(std::string_view text, int position) {
    const Origin key_at{"--set", position, 1};
    Reading reading;
    const auto equals = text.find('=');
    const auto path = trimmed(text.substr(0, equals));
    if (equals == std::string_view::npos || path.empty()) {
        reading.problems.push_back(
            refusal(key_at, {}, shortened(std::string(text)) + " is not key=value"));
        return reading;
    }
    const auto value = trimmed(text.substr(equals + 1));
    const auto column =
        value.empty() ? equals + 1 : static_cast<std::size_t>(value.data() - text.data());
    const Origin value_at{"--set", position, static_cast<int>(column) + 1};
    const bool bare = is_unquoted_text(find_key(path), value);
    auto parsed = read_toml("value = " + (bare ? config::quoted(value) : std::string(value)), "--set");
    const bool broken = !parsed.problems.empty() || parsed.entries.size() != 1;
    const bool quotes = value.starts_with('"') || value.starts_with('\'');
    if (broken && find_key(path) && !quotes && !find_text_fault(value)) {  // no text is wanted there
        reading.entries.push_back({std::string(path), std::string(value), key_at, value_at});
        return reading;
    }
    if (broken) {
        reading.problems.push_back(refusal(value_at, path, "the value is not valid TOML"));
        return reading;
    }
    const auto& entry = parsed.entries.front();
    reading.entries.push_back({std::string(path), entry.value, key_at, value_at, entry.table});
    return reading;
}

}  // namespace tripline::config
