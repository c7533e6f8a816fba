#include "config/suggest.h"

#include "config/edit_distance.h"
#include "config/keys.h"
#include "config/meant_number.h"
#include "config/word_parts.h"

#include <algorithm>
#include <array>

namespace tripline::config {
namespace {

// Words longer than any key can't be near one; it also bounds the work.
constexpr std::size_t longest_word = 64;

/// Keeps the candidate nearest to a word, if it is near at all.
class Nearest {
public:
    explicit Nearest(std::string_view word) : word_(word), best_(1 + word.size() / 3) {}

    void consider(std::string_view as, std::string_view candidate, std::size_t handicap = 0) {
        if (word_.size() > longest_word) return;
        const auto longer = std::max(as.size(), word_.size()) - std::min(as.size(), word_.size());
        if (longer + handicap >= best_) return;  // the distance is at least this
        const auto distance = edit_distance(word_, as) + handicap;
        if (distance >= best_) return;
        best_ = distance;
        found_ = candidate;
    }

    const std::string& found() const { return found_; }

private:
    std::string_view word_;
    std::size_t best_;
    std::string found_;
};

std::string in_small_letters(std::string word) {
    for (auto& c : word) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return word;
}

/// Of a level too high: with the sign that was forgotten; or empty.
std::string below_zero(const Key& key, const Value& value) {
    const auto number = meant_below_zero(key, value);
    return number ? to_toml(*number) : std::string();
}

/// The number in a text: "1500", "2 s".
std::string suggest_number(const Key& key, const Settings& settings, const std::string& word) {
    Key any = key;
    if (key.type == Type::pin) any.type = Type::whole;
    const auto meant = meant_number(any, word);
    if (!meant) return {};
    if (!check(key, settings, meant->value).empty()) return below_zero(key, meant->value);
    const bool as_it_stands = !meant->comma && !meant->unit;
    return to_toml(meant->value) + (as_it_stands ? " without quotes" : "");
}

struct OtherWord {
    std::string_view word;
    std::string_view leaf;   ///< of a line's key
};
constexpr std::array other_words{OtherWord{"line", "pin"},    OtherWord{"gpio", "pin"},    OtherWord{"signal", "pin"},
                                 OtherWord{"number", "pin"},  OtherWord{"port", "device"}, OtherWord{"path", "device"},
                                 OtherWord{"chip", "device"}, OtherWord{"type", "kind"}};

struct OtherPath {
    std::string_view path;
    std::string_view key;
};
/// What is switched off by a number.
constexpr std::array other_paths{OtherPath{"web.enabled", "web.port"}, OtherPath{"web.enable", "web.port"},
                                 OtherPath{"black_box.enabled", "black_box.keep_s"}, OtherPath{"black_box.enable", "black_box.keep_s"}};

/// The time before the key's, and the hang time, as they are called too (common practice).
constexpr std::array other_names{OtherPath{"pre_key", "lead_ms"}, OtherPath{"prekey", "lead_ms"}, OtherPath{"tx_delay", "lead_ms"},
                                 OtherPath{"hang", "gate.hold_ms"}, OtherPath{"hang_time", "gate.hold_ms"}};

std::string by_another_name(std::string_view path) {
    const auto* const other = std::ranges::find(other_names, leaf_of(stem_of(path)), &OtherPath::path);
    if (other == other_names.end()) return {};
    const std::string here = std::string(table_of(path)) + '.' + std::string(other->key);
    if (find_key(here)) return here;
    const std::string key(other->key);
    return find_key(key) ? key : "line.ptt." + key;
}

/// What a key is often called.
std::string by_another_word(std::string_view path) {
    const auto other = std::ranges::find(other_paths, path, &OtherPath::path);
    if (other != other_paths.end()) return std::string(other->key);
    if (!path.starts_with("line.")) return {};
    const auto meant = std::ranges::find(other_words, leaf_of(path), &OtherWord::word);
    if (meant == other_words.end()) return {};
    const std::string key = std::string(table_of(path)) + '.' + std::string(meant->leaf);
    return find_key(key) ? key : std::string();
}

/// station.start_mode of station.mode: the only key of its table that has the name as its end or beginning.
std::string with_the_rest(std::string_view path) {
    std::string found;
    const std::string leaf(leaf_of(path));
    for (const Key& key : all_keys()) {
        const auto name = leaf_of(stem_of(key.path));
        if (table_of(key.path) != table_of(path) || !(name.ends_with('_' + leaf) || name.starts_with(leaf + '_'))) continue;
        if (!found.empty()) return {};
        found = key.path;
    }
    return found;
}

/// A key in a table, near to the word by that table alone, is none that was meant.
bool near_by_name(std::string_view path, std::string_view key) {
    const auto leaf = leaf_of(path);
    const auto apart = std::min(edit_distance(leaf, leaf_of(key)), edit_distance(leaf, leaf_of(stem_of(key))));
    return table_of(path).empty() || apart < 1 + leaf.size() / 3;
}

/// The same name with another unit, or in another table: only one that means something by itself.
std::string same_name_elsewhere(std::string_view path) {
    const auto keys = all_keys();
    const auto as_in = [&](bool same_table) {
        return std::find_if(keys.begin(), keys.end(), [&](const Key& key) {
            return leaf_of(stem_of(key.path)) == leaf_of(stem_of(path)) &&
                   (!same_table || table_of(key.path) == table_of(path));
        });
    };
    auto found = as_in(true);
    if (found == keys.end() && leaf_of(path) != "enabled") found = as_in(false);
    return found == keys.end() ? std::string() : found->path;
}

}  // namespace

std::string suggest_path(std::string_view path, bool table) {
    Nearest nearest(path);
    for (const auto& known : all_tables()) {
        if (table) nearest.consider(known.path, '[' + known.path + ']');
    }
    if (table) return nearest.found();
    for (const auto& key : all_keys()) {
        if (path.size() > longest_word || !near_by_name(path, key.path)) continue;
        nearest.consider(key.path, key.path);
        nearest.consider(stem_of(key.path), key.path, 1);
    }
    for (const auto& meant : {by_another_word(path), by_another_name(path), same_name_elsewhere(path), nearest.found(), with_the_rest(path)})
        if (!meant.empty()) return meant;
    return path.size() > longest_word ? std::string() : suggest_by_parts(path);
}

std::string allowed_tables(std::string_view path) {
    if (!path.starts_with("line.")) return {};
    std::string text;
    for (const auto& known : all_tables())
        if (known.path.starts_with("line.")) text += (text.empty() ? "[" : ", [") + known.path + ']';
    return text;
}

std::string allowed_here(const Key& key, const Settings& settings) {
    if (key.type != Type::pin) return allowed(key);
    const auto kind = find_key(std::string(table_of(key.path)) + ".kind")->read(settings);
    if (kind == Value(std::string("serial"))) return R"("rts" or "dtr")";
    if (kind == Value(std::string("gpio"))) return "0 to 1023";
    if (kind == Value(std::string("cm108"))) return "1 to 8";
    return allowed(key);
}

std::string suggest_value(const Key& key, const Settings& settings, const Value& value) {
    const auto* word = std::get_if<std::string>(&value);
    if (!word && key.type == Type::number) return below_zero(key, value);
    if (!word || word->size() > longest_word) return {};
    const auto small = in_small_letters(*word);
    if (key.type == Type::choice) {
        Nearest nearest(small);
        for (const auto& choice : key.choices) nearest.consider(choice, config::quoted(choice));
        return nearest.found();
    }
    if (check(key, settings, small).empty()) return config::quoted(small);
    return suggest_number(key, settings, *word);
}

}  // namespace tripline::config
