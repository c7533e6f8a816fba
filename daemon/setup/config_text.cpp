#include "daemon/setup/config_text.h"

#include "config/key.h"
#include "config/keys.h"
#include "config/value.h"

#include <map>
#include <sstream>
#include <string_view>

namespace tripline::setup {
namespace {

const std::map<std::string_view, const char*> reasons{
    {"gate.open_dbfs", "half way between the room's noise and the beginnings of a soft voice"},
    {"gate.voice_peak_dbfs", "8 dB over the active level of the voice in the voice band"},
    {"anti_trip.coupling_db", "as measured, and 6 dB for peaks; what is learnt stays below"},
    {"anti_trip.delay_ms", "as measured, less 2 ms"},
    {"anti_trip.method", "by how far the voice stands over the receiver's leak"}};

std::string commented(const std::string& text) {
    std::string out;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) out += "# " + line + '\n';
    return out;
}

std::string keys_of(const config::Table& table, const Survey& survey, const Advice& advice) {
    std::string text;
    for (const config::Key& key : config::all_keys()) {
        if (config::table_of(key.path) != table.path) continue;
        const config::Value value = key.read(advice.settings);
        const auto reason = reasons.find(key.path);
        const bool measured = reason != reasons.end() && (leak_heard(survey) || table.path != "anti_trip");
        if (!measured && value == key.read({})) continue;
        if (measured) text += std::string("# ") + reason->second + '\n';
        text += std::string(config::leaf_of(key.path)) + " = " + config::to_toml(value) + '\n';
    }
    return text;
}

}  // namespace

std::string config_text(const std::string& origin, const Survey& survey, const Advice& advice) {
    std::string name;
    for (const char c : origin) name += c >= ' ' && c <= '~' ? c : '?';
    std::string text = "# Found by tripline setup in " + name + ". Measured:\n" + commented(in_words(survey)) +
                       "# Expected of these settings:\n" + commented(in_words(advice)) + '\n';
    for (const config::Table& table : config::all_tables()) {
        const std::string keys = keys_of(table, survey, advice);
        if (!keys.empty()) text += '[' + table.path + "]\n" + keys + '\n';
    }
    text.pop_back();
    return text;
}

}  // namespace tripline::setup
