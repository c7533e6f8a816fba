#include "daemon/watch/seen.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace tripline::watch {
namespace {

using Json = nlohmann::json;

constexpr std::size_t most_told = 8;

void tell(Seen& seen, std::string text) {
    if (seen.told.size() == most_told) seen.told.erase(seen.told.begin());
    seen.told.push_back(std::move(text));
    ++seen.events;
}

void take_status(Seen& seen, const Json& line) {
    const std::string trouble = line.at("trouble");
    seen.missing.clear();
    for (const std::string one : line.value("missing", Json::array())) seen.missing += (seen.missing.empty() ? "" : "; ") + one;
    seen.station = trouble.empty() ? line.at("phase").get<std::string>() : trouble;
    seen.mode = line.at("mode");
    seen.state = line.at("state");
    seen.key = line.at("key");
    seen.reason = line.at("reason");
    seen.longest_over_s = line.value("longest_over_s", 0.0);
}

void take_level(Seen& seen, const Json& level) {
    seen.state = level.at("state");
    seen.mode = level.at("mode");
    seen.key = level.at("key");
    seen.cause = level.at("cause");
    seen.on_air_s = level.at("on_air_s");
    seen.microphone_dbfs = level.at("microphone_dbfs");
    seen.receiver_dbfs = level.at("receiver_dbfs");
    seen.leak_dbfs = level.at("leak_dbfs");
    seen.threshold_dbfs = level.at("threshold_dbfs");
    seen.margin_db = level.at("margin_db");
    seen.levels = true;
}

/// Who begins to watch between the decision and the key has been told of neither: `reason` is then why the key opened last.
std::string why_closed(const std::string& reason, bool forced) {
    if (reason == "voice" || reason == "forced") return reason;
    return forced ? "forced" : "voice";
}

void take_event(Seen& seen, const Json& event) {
    const std::string kind = event.at("event");
    if (kind == "identify") return tell(seen, "time to identify the station");
    if (kind == "reset") return tell(seen, "a sample was no number: chain reset");
    if (kind == "mode") return tell(seen, "mode " + event.at("mode").get<std::string>());
    if (kind != "state") return;
    const std::string reason = event.at("reason");
    if (reason != "step") seen.reason = reason;
    const std::string to = event.at("to");
    char at[32];
    std::snprintf(at, sizeof at, "%9.2f s  ", event.at("seconds").get<double>());
    const bool keyed = event.value("mode", std::string()) == "keyed";
    if (to == "on_air" && event.at("from") != "hold") tell(seen, at + ("key closed: " + why_closed(seen.reason, keyed)));
    if (to == "unkeying") tell(seen, at + ("key open: " + seen.reason));
    if (to == "locked_out") tell(seen, std::string(at) + "locked out until the " + (keyed ? "key is forced again or the station armed" : "microphone is quiet"));
}

}  // namespace

void lose(Seen& seen) {
    seen.station = "the daemon does not answer: look at the transmitter";
    seen.levels = false;
}

void take(Seen& seen, std::string_view text) {
    const Json line = Json::parse(text, nullptr, false);
    if (!line.is_object()) return;
    try {
        if (line.contains("level")) take_level(seen, line.at("level"));
        else if (line.contains("event")) take_event(seen, line.at("event"));
        else if (line.value("re", std::string()) == "status") take_status(seen, line);
    } catch (const Json::exception&) {  // of a later version, perhaps: the rest is still of use
    }
}

}  // namespace tripline::watch
