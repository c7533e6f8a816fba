// The figures of a hop in JSON: the same names and rounding wherever they are told.
#pragma once

#include "dsp/heard.h"

#include <nlohmann/json_fwd.hpp>

namespace tripline::replay {

/// microphone_dbfs, receiver_dbfs, leak_dbfs, floor_dbfs and threshold_dbfs (AES17), margin_db;
/// to 0.1 dB.
void add_levels(nlohmann::ordered_json& line, const dsp::Measures& measures);

}  // namespace tripline::replay
