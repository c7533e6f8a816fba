// The station's counters for Prometheus.
#pragma once

#include <string>

namespace tripline::control {

/// The protocol's answer to "metrics" in the text exposition format, version 0.0.4. Throws
/// nlohmann's exceptions for anything else.
std::string prometheus(const std::string& answer);

}  // namespace tripline::control
