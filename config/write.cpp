#include "config/write.h"

#include "config/keys.h"
#include "config/wrap.h"

#include <functional>

namespace tripline::config {
namespace {

constexpr std::size_t width = 96;

std::string pair_text(const Key& key, const Settings& settings) {
    return std::string(leaf_of(key.path)) + " = " + to_toml(key.read(settings));
}

/// Every table with its keys, each written by `one`.
std::string write_tables(const std::function<std::string(const Table&)>& head,
                         const std::function<std::string(const Key&)>& one) {
    std::string text;
    for (const auto& table : all_tables()) {
        text += '\n' + head(table) + '[' + table.path + "]\n";
        for (const auto& key : all_keys()) {
            if (table_of(key.path) == table.path) text += one(key);
        }
    }
    return text;
}

std::string commented(const std::string& text) { return wrap(text, "# ", width); }

}  // namespace

std::string shipped_file() {
    const Settings defaults;
    const auto head = [](const Table& table) { return commented(table.summary); };
    const auto one = [&](const Key& key) {
        const auto help = key.help.empty() ? "" : ' ' + key.help;
        return '\n' + commented(key.summary + help) + commented("Allowed: " + allowed(key)) +
               pair_text(key, defaults) + '\n';
    };
    return commented("Tripline: every setting, with the value it has when it is not given.") +
           commented("Check a changed file with: tripline config check FILE") +
           write_tables(head, one);
}

std::string show(const Loaded& loaded) {
    const auto head = [](const Table&) { return std::string(); };
    const auto one = [&](const Key& key) {
        const auto pair = pair_text(key, loaded.settings);
        const std::string gap(pair.size() < 40 ? 40 - pair.size() : 1, ' ');
        return pair + gap + "# " + to_string(loaded.origin(key.path)) + '\n';
    };
    return "# The settings in force, and where each comes from.\n" + write_tables(head, one);
}

std::vector<Change> differences(const Settings& from, const Settings& to) {
    std::vector<Change> changes;
    for (const auto& key : all_keys()) {
        const auto before = to_toml(key.read(from));
        const auto after = to_toml(key.read(to));
        if (before != after) changes.push_back({key.path, before, after, key.touches});
    }
    return changes;
}

}  // namespace tripline::config
