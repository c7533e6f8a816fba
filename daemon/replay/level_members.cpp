#include "daemon/replay/level_members.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace tripline::replay {
namespace {

double tenths(double value) { return std::round(value * 10) / 10 + 0.0; }
double level(Power power) { return tenths(to_dbfs(power).value); }

/// A margin over a threshold of zero has no bound; JSON has no infinity.
double margin(float decibels) {
    return std::isnan(decibels) ? 0.0 : tenths(std::clamp(static_cast<double>(decibels), -200.0, 200.0));
}

}  // namespace

void add_levels(nlohmann::ordered_json& line, const dsp::Measures& measures) {
    line["microphone_dbfs"] = level(measures.microphone);
    line["receiver_dbfs"] = level(measures.receiver);
    line["leak_dbfs"] = level(measures.leak);
    line["floor_dbfs"] = level(measures.floor);
    line["threshold_dbfs"] = level(measures.threshold);
    line["margin_db"] = margin(margin_db(measures));
}

}  // namespace tripline::replay
