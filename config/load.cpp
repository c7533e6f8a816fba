#include "config/load.h"

#include "config/cross_checks.h"
#include "config/file_text.h"
#include "config/keys.h"
#include "config/reader.h"
#include "config/suggest.h"
#include "config/text_fault.h"

#include <algorithm>
#include <iterator>

namespace tripline::config {
namespace {

/// A file with more unknown keys than this is something else; it must not take long to say so.
constexpr std::size_t most_suggestions = 100;

void append(Reading& all, Reading part) {
    std::move(part.entries.begin(), part.entries.end(), std::back_inserter(all.entries));
    std::move(part.problems.begin(), part.problems.end(), std::back_inserter(all.problems));
}

Reading read_overlays(const Overlays& overlays) {
    Reading all;
    int position = 0;
    for (const auto& overlay : overlays) append(all, read_overlay(overlay, ++position));
    return all;
}

Problem unknown(const Entry& entry, bool suggest) {
    Problem problem{entry.key_at, entry.path, {}, {}, {}, Severity::error};
    if (suggest) problem.suggestion = suggest_path(entry.path, entry.table);
    if (is_table(entry.path)) {
        problem.what = "is a table of settings; " + shortened(entry.value) + " can't stand for it";
        problem.suggestion.clear();
    } else {
        problem.what = entry.table ? "no such table" : "no such key";
        if (entry.table) problem.allowed = allowed_tables(entry.path);
    }
    return problem;
}

/// Entries of one key: all are checked, the last good one counts.
void apply(const Key& key, const std::vector<Entry>& entries, Loaded& loaded) {
    for (const auto& entry : entries) {
        if (entry.path != key.path) continue;
        const auto wrong = check(key, loaded.settings, entry.value);
        if (!wrong.empty()) {
            loaded.problems.push_back({entry.value_at, key.path, wrong, allowed_here(key, loaded.settings),
                                       suggest_value(key, loaded.settings, entry.value), Severity::error});
            continue;
        }
        key.write(loaded.settings, entry.value);
        loaded.origins[key.path] = entry.value_at;
    }
}

void sort_by_place(Problems& problems) {
    const auto place = [](const Problem& p) {
        return std::tuple(p.at.source == "--set", p.at.line, p.at.column);
    };
    std::stable_sort(problems.begin(), problems.end(),
                     [&](const Problem& a, const Problem& b) { return place(a) < place(b); });
}

Loaded loaded_from(const Reading& reading) {
    Loaded loaded;
    loaded.problems = reading.problems;
    for (const auto& entry : reading.entries) {
        if (find_key(entry.path)) continue;
        const bool suggest = loaded.problems.size() < most_suggestions;
        loaded.problems.push_back(unknown(entry, suggest));
    }
    for (const auto& key : all_keys()) apply(key, reading.entries, loaded);
    cross_check(loaded);
    sort_by_place(loaded.problems);
    return loaded;
}

}  // namespace

bool Loaded::good() const {
    return std::none_of(problems.begin(), problems.end(),
                        [](const Problem& p) { return p.severity == Severity::error; });
}

Origin Loaded::origin(std::string_view path) const {
    const auto found = origins.find(path);
    return found == origins.end() ? Origin{} : found->second;
}

Loaded load_text(std::string_view text, const std::string& source, const Overlays& overlays) {
    Reading reading = read_toml(text, source);
    append(reading, read_overlays(overlays));
    return loaded_from(reading);
}

Loaded load(const std::filesystem::path& file, const Overlays& overlays) {
    const auto text = read_file_text(file, longest_file);
    if (text.error.empty()) return load_text(text.content, file.string(), overlays);
    Problem problem;
    problem.at.source = file.string();
    problem.what = text.error;
    Reading reading;
    reading.problems.push_back(problem);
    append(reading, read_overlays(overlays));
    return loaded_from(reading);
}

Loaded load_defaults(const Overlays& overlays) { return loaded_from(read_overlays(overlays)); }

}  // namespace tripline::config
