#include "config/reference.h"

#include "config/keys.h"

namespace tripline::config {
namespace {

constexpr auto head =
    "# Every setting\n\n"
    "Made from the table that the checks use; the chapter on configuration explains how to use "
    "it. The same is in the manual page tripline.toml(5), and as a file to start from in "
    "`tripline config defaults`.\n";

std::string row(const Key& key) {
    const auto meaning = key.help.empty() ? key.summary : key.summary + ' ' + key.help;
    return "| `" + std::string(leaf_of(key.path)) + "` | `" + to_toml(key.read(Settings{})) +
           "` | " + allowed(key) + " | " + meaning + " |\n";
}

}  // namespace

std::string key_reference() {
    std::string text = head;
    for (const auto& table : all_tables()) {
        text += "\n## [" + table.path + "]\n\n" + table.summary + "\n\n" +
                "| key | default | allowed | meaning |\n| --- | --- | --- | --- |\n";
        for (const auto& key : all_keys()) {
            if (table_of(key.path) == table.path) text += row(key);
        }
    }
    return text;
}

}  // namespace tripline::config
