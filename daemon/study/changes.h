// Settings that differ, for the page.
#pragma once

#include "config/settings.h"

#include <nlohmann/json.hpp>

namespace tripline::study {

using Json = nlohmann::ordered_json;

/// [{"key":"gate.open_dbfs","from":"-50","to":"-46"}, ...]: those that may be set while the station runs.
Json changes_of(const config::Settings& before, const config::Settings& after);

}  // namespace tripline::study
