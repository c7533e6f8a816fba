// One word for each value of the station's enums: for events, logs and reports.
#pragma once

#include "daemon/station/event.h"

#include <string_view>

namespace tripline::station {

std::string_view name(State state) noexcept;
std::string_view name(Mode mode) noexcept;
std::string_view name(EventKind kind) noexcept;
std::string_view name(Reason reason) noexcept;
/// The same for the end of an over. None: it ended with the sound, "end_of_sound", where the recording ends or the station was
/// told to end.
std::string_view end_name(Reason reason) noexcept;
std::string_view name(dsp::Cause cause) noexcept;

}  // namespace tripline::station
