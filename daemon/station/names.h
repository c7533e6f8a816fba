// One word for each value of the station's enums: for events, logs and reports.
#pragma once

#include "daemon/station/event.h"

#include <string_view>

namespace tripline::station {

std::string_view name(State state) noexcept;
std::string_view name(Mode mode) noexcept;
std::string_view name(EventKind kind) noexcept;
std::string_view name(Reason reason) noexcept;
std::string_view name(dsp::Cause cause) noexcept;

}  // namespace tripline::station
