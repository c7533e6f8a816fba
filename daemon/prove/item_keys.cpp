#include "daemon/prove/item_keys.h"

#include "config/edit_distance.h"

#include <algorithm>

namespace tripline::prove {
namespace {

using config::Type;
using config::Value;

config::Key key(std::string path, Type type, config::Range range = {}) {
    config::Key made;
    made.unit = config::unit_of(path);
    if (path.ends_with("_percent")) made.unit = "percent";
    made.path = std::move(path);
    made.type = type;
    made.range = range;
    return made;
}

double number(const Value& value) {
    const auto* whole = std::get_if<std::int64_t>(&value);
    return whole ? static_cast<double>(*whole) : std::get<double>(value);
}

ItemKey text(const char* name, bool required, std::string Written::*member) {
    return {key(name, Type::text), required,
            [member](Written& w, const Value& v) { w.*member = std::get<std::string>(v); }};
}

ItemKey path(const char* name, bool required, std::filesystem::path replay::RecordingSource::*member) {
    return {key(name, Type::text), required, [member](Written& w, const Value& v) {
                w.item.source.*member = std::get<std::string>(v);
            }};
}

ItemKey channel(const char* name, int replay::RecordingSource::*member) {
    return {key(name, Type::whole, {1, 1024}), false, [member](Written& w, const Value& v) {
                w.item.source.*member = static_cast<int>(std::get<std::int64_t>(v));
            }};
}

ItemKey limit(const char* name, double most, std::optional<double> replay::Limits::*member) {
    return {key(name, Type::number, {0, most}), false,
            [member](Written& w, const Value& v) { w.item.limits.*member = number(v); }};
}

constexpr double most_overs = 1e6;
constexpr double most_ms = 1e6;

std::vector<ItemKey> make_keys() {
    using replay::Limits;
    using Source = replay::RecordingSource;
    return {path("file", true, &Source::file),
            text("labels", true, &Written::labels),
            path("monitor", false, &Source::monitor),
            channel("microphone_channel", &Source::microphone_channel),
            channel("receiver_channel", &Source::receiver_channel),
            {key("no_receiver", Type::boolean), false,
             [](Written& w, const Value& v) { w.item.source.no_receiver = std::get<bool>(v); }},
            text("config", false, &Written::config),
            limit("max_missed", most_overs, &Limits::missed),
            limit("max_torn", most_overs, &Limits::torn),
            limit("max_false_keys", most_overs, &Limits::false_keys),
            limit("max_held_on", most_overs, &Limits::held_on),
            limit("max_onset_p50_ms", most_ms, &Limits::onset_p50_ms),
            limit("max_onset_p95_ms", most_ms, &Limits::onset_p95_ms),
            limit("max_clipped_percent", 100, &Limits::clipped_percent),
            limit("max_lost_percent", 100, &Limits::lost_percent),
            limit("max_cost", 1, &Limits::cost)};
}

}  // namespace

std::span<const ItemKey> item_keys() {
    static const std::vector<ItemKey> keys = make_keys();
    return keys;
}

const config::Key* find_item_key(std::string_view path) {
    if (config::table_of(path).empty() || config::table_of(path).find('.') != std::string_view::npos) return nullptr;
    const auto found = std::ranges::find(item_keys(), config::leaf_of(path), [](const ItemKey& known) -> std::string_view { return known.key.path; });
    return found == item_keys().end() ? nullptr : &found->key;
}

std::string item_key_names() {
    std::string text;
    for (const ItemKey& known : item_keys()) text += (text.empty() ? "" : ", ") + known.key.path;
    return text;
}

std::string suggest_item_key(std::string_view word) {
    std::string found;
    constexpr std::size_t longest_word = 64;
    if (word.size() > longest_word) return found;
    std::size_t best = 1 + word.size() / 3;
    for (const ItemKey& known : item_keys()) {
        const std::size_t distance = config::edit_distance(word, known.key.path);
        if (distance >= best) continue;
        best = distance;
        found = known.key.path;
    }
    return found;
}

}  // namespace tripline::prove
