#include "daemon/replay/read_events.h"

#include "config/file_text.h"
#include "daemon/station/names.h"

#include <nlohmann/json.hpp>

#include <sstream>
#include <stdexcept>

namespace tripline::replay {
namespace {

using Json = nlohmann::json;

constexpr std::size_t largest_file = 256 << 20;   // bytes: a hundred thousand overs

/// The value from the first one to `last` that has the name.
template <typename Value> Value named(const Json& line, const char* member, Value last) {
    const auto text = line.at(member).get<std::string>();
    for (int i = 0; i <= static_cast<int>(last); ++i) {
        const auto value = static_cast<Value>(i);
        if (station::name(value) == text) return value;
    }
    throw std::runtime_error(text + " is no " + member + " of an event");
}

}  // namespace

station::Event event_of(const std::string& line) {
    try {
        const Json json = Json::parse(line);
        station::Event event;
        event.at = Frames{json.at("frame").get<std::int64_t>()};
        event.kind = named(json, "event", station::EventKind::reset);
        event.from = named(json, "from", station::State::locked_out);
        event.to = named(json, "to", station::State::locked_out);
        event.reason = named(json, "reason", station::Reason::refused);
        event.mode = named(json, "mode", station::Mode::keyed);
        event.lines = {json.at("ptt").get<bool>(), json.at("mute").get<bool>(), json.at("antenna").get<bool>()};
        event.heard.voice = json.at("voice").get<bool>();
        event.heard.cause = named(json, "cause", dsp::Cause::not_finite);
        return event;
    } catch (const Json::exception&) {
        throw std::runtime_error("no event of a station");
    }
}

std::vector<station::Event> read_events(const std::filesystem::path& file) {
    const auto text = config::read_file_text(file, largest_file);
    if (!text.error.empty()) throw std::runtime_error(file.string() + ": " + text.error);
    if (text.content.size() > largest_file) throw std::runtime_error(file.string() + ": is larger than 256 MiB: no events of a recording");
    std::istringstream lines(text.content);
    std::vector<station::Event> events;
    std::string line;
    for (int number = 1; std::getline(lines, line); ++number) {
        try {
            const station::Event event = event_of(line);
            if (!events.empty() && event.at < events.back().at) break;
            events.push_back(event);
        } catch (const std::runtime_error& error) {
            throw std::runtime_error(file.string() + ':' + std::to_string(number) + ": " + error.what());
        }
    }
    return events;
}

}  // namespace tripline::replay
