// The daemon's answers in words. Each takes the line of JSON that the daemon gave, and throws
// nlohmann's exceptions when it is not what the protocol says.
#pragma once

#include <string>

namespace tripline::cli {

std::string status_text(const std::string& answer);
/// A line a setting: key, value, what is allowed.
std::string settings_text(const std::string& answer);
/// Prometheus' text exposition format, version 0.0.4.
std::string metrics_text(const std::string& answer);

}  // namespace tripline::cli
