#include "daemon/prove/suite.h"

#include "config/file_text.h"
#include "config/reader.h"
#include "config/text_fault.h"
#include "daemon/prove/item_keys.h"

#include <algorithm>
#include <map>
#include <stdexcept>

namespace tripline::prove {
namespace {

using config::Entry;
using config::Origin;
using config::Problem;

constexpr auto what_a_name_is = "[name], of letters, digits, _ and -";

bool is_name(std::string_view path) {
    return std::ranges::all_of(path, [](unsigned char c) {
        return (c < 0x80 && std::isalnum(c) != 0) || c == '_' || c == '-';
    });
}

Problem problem(Origin at, std::string key, std::string what, std::string allowed = {}) {
    return {std::move(at), std::move(key), std::move(what), std::move(allowed), {},
            config::Severity::error};
}

/// The table of one recording.
class ItemReader {
public:
    ItemReader(const config::TableAt& table, const config::Reading& reading, config::Problems& problems)
        : table_(table), problems_(problems) {
        written_.item.name = table.path;
        for (const Entry& entry : reading.entries) {
            if (config::table_of(entry.path) == table.path) take(entry);
        }
        for (const ItemKey& known : item_keys()) {
            if (!known.required || at_.contains(known.key.path) || told(known.key.path)) continue;
            problems_.push_back(problem(table.at, table.path, "has no " + known.key.path));
        }
    }

    Item resolve(const std::filesystem::path& folder, const config::Settings& base,
                 const config::Overlays& overlays) {
        auto& source = written_.item.source;
        take_settings(base);
        if (good("file")) require(source.file = folder / source.file, "file");
        if (good("monitor")) require(source.monitor = folder / source.monitor, "monitor");
        if (good("labels")) read_labels(folder / written_.labels);
        if (good("config")) read_config(folder / written_.config, overlays);
        if (source.no_receiver) refuse_receiver();
        source = replay::for_station(source, receiver_channel_);
        return written_.item;
    }

private:
    void take(const Entry& entry) {
        const std::string leaf(config::leaf_of(entry.path));
        const auto known = std::ranges::find(item_keys(), leaf, [](const ItemKey& k) { return k.key.path; });
        if (known == item_keys().end()) {
            problems_.push_back(problem(entry.key_at, entry.path, "no such key"));
            problems_.back().suggestion = suggest_item_key(leaf);
            if (problems_.back().suggestion.empty()) problems_.back().allowed = item_key_names();
            return;
        }
        const auto wrong = config::check(known->key, {}, entry.value);
        at_[leaf] = entry.value_at;
        good_[leaf] = wrong.empty();
        if (wrong.empty()) {
            known->write(written_, entry.value);
        } else {
            problems_.push_back(problem(entry.value_at, entry.path, wrong, config::allowed(known->key)));
        }
    }

    /// A line that is not TOML has been told as this key's.
    bool told(const std::string& leaf) const {
        return std::ranges::find(problems_, table_.path + '.' + leaf, &Problem::key) != problems_.end();
    }

    bool good(const std::string& leaf) const {
        const auto found = good_.find(leaf);
        return found != good_.end() && found->second;
    }

    void reject(const std::string& leaf, std::string what) {
        problems_.push_back(problem(at_[leaf], table_.path + '.' + leaf, std::move(what)));
    }

    void require(const std::filesystem::path& file, const std::string& leaf) {
        std::error_code error;
        if (!std::filesystem::is_regular_file(file, error)) reject(leaf, file.string() + ": there is no such file");
    }

    void read_labels(const std::filesystem::path& file) {
        try {
            written_.item.labels = {file.string(), replay::read_labels(file)};
        } catch (const std::runtime_error& error) {
            reject("labels", error.what());
        }
    }

    void read_config(const std::filesystem::path& file, const config::Overlays& overlays) {
        const auto loaded = config::load(file, overlays);
        for (const Problem& p : loaded.problems) {
            if (p.severity == config::Severity::error) reject("config", to_string(p));
        }
        take_settings(loaded.settings);
    }

    void take_settings(const config::Settings& settings) {
        written_.item.settings = settings.station;
        receiver_channel_ = settings.audio.receiver_channel;
    }

    void refuse_receiver() {
        for (const char* leaf : {"monitor", "receiver_channel"}) {
            if (at_.contains(leaf)) reject(leaf, "contradicts no_receiver = true");
        }
    }

    config::TableAt table_;
    config::Problems& problems_;
    Written written_;
    int receiver_channel_ = 0;  // of the station
    std::map<std::string, Origin, std::less<>> at_;  ///< of the value, by key
    std::map<std::string, bool, std::less<>> good_;
};

/// What stands outside every recording's table.
void refuse_strays(const config::Reading& reading, config::Problems& problems) {
    for (const Entry& entry : reading.entries) {
        const bool inside = std::ranges::any_of(reading.tables, [&](const config::TableAt& table) {
            return config::table_of(entry.path) == table.path;
        });
        if (inside) continue;
        problems.push_back(problem(entry.key_at, entry.path, "is not a recording's table", what_a_name_is));
    }
}

void sort_by_place(config::Problems& problems) {
    std::ranges::stable_sort(problems, {}, [](const Problem& p) { return std::pair(p.at.line, p.at.column); });
}

}  // namespace

Suite read_suite(const std::filesystem::path& folder, const config::Settings& base,
                 const config::Overlays& overlays) {
    Suite suite;
    const auto file = folder / suite_file;
    const Origin whole{file.string(), 0, 0};
    const auto text = config::read_file_text(file, config::longest_file);
    if (!text.error.empty()) {
        suite.problems.push_back(problem(whole, {}, text.error));
        return suite;
    }
    const auto reading = config::read_toml(text.content, file.string(), is_name, find_item_key, [](std::string_view) { return false; });
    suite.problems = reading.problems;
    refuse_strays(reading, suite.problems);
    for (const config::TableAt& table : reading.tables) {
        ItemReader reader(table, reading, suite.problems);
        suite.items.push_back(reader.resolve(folder, base, overlays));
    }
    if (suite.items.empty() && suite.good()) suite.problems.push_back(problem(whole, {}, "names no recording"));
    sort_by_place(suite.problems);
    return suite;
}

}  // namespace tripline::prove
