#include "daemon/replay/event_line.h"

#include "daemon/station/names.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace tripline::replay {
namespace {

using Json = nlohmann::ordered_json;

double tenths(double value) { return std::round(value * 10) / 10 + 0.0; }
double level(Power power) { return tenths(to_dbfs(power).value); }

/// A margin over a threshold of zero has no bound; JSON has no infinity.
double margin(float decibels) {
    return std::isnan(decibels) ? 0.0 : tenths(std::clamp(static_cast<double>(decibels), -200.0, 200.0));
}

}  // namespace

std::string event_line(const station::Event& event, Hertz rate) {
    const dsp::Measures& m = event.heard.measures;
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
    line["microphone_dbfs"] = level(m.microphone);
    line["receiver_dbfs"] = level(m.receiver);
    line["leak_dbfs"] = level(m.leak);
    line["floor_dbfs"] = level(m.floor);
    line["threshold_dbfs"] = level(m.threshold);
    line["margin_db"] = margin(m.margin_db);
    return line.dump();
}

}  // namespace tripline::replay
