#include "daemon/replay/event_line.h"

#include "daemon/replay/level_members.h"
#include "daemon/station/names.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace tripline::replay {
namespace {

using Json = nlohmann::ordered_json;

}  // namespace

std::string event_line(const station::Event& event, Hertz rate) {
    Json line;
    line["frame"] = event.at.count;
    line["seconds"] = std::round(static_cast<double>(event.at.count) / rate.value * 1e6) / 1e6;
    line["event"] = station::name(event.kind);
    line["from"] = station::name(event.from);
    line["to"] = station::name(event.to);
    line["reason"] = station::name(event.reason);
    line["mode"] = station::name(event.mode);
    line["ptt"] = event.lines.ptt;
    line["mute"] = event.lines.mute;
    line["antenna"] = event.lines.antenna;
    line["voice"] = event.heard.voice;
    line["cause"] = station::name(event.heard.cause);
    add_levels(line, event.heard.measures);
    return line.dump();
}

}  // namespace tripline::replay
