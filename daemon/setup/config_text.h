// The settings found, as a file for the station.
#pragma once

#include "daemon/setup/advice.h"

#include <string>

namespace tripline::setup {

/// A commented configuration: what was measured, the distances, and every setting that is not
/// the shipped one, with the reason beside those that were found. `origin` is the recording.
std::string config_text(const std::string& origin, const Survey& survey, const Advice& advice);

}  // namespace tripline::setup
