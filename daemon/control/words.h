// The protocol's answers, one line of JSON each, without its end.
#pragma once

#include "daemon/control/desk.h"

#include <string>
#include <string_view>

namespace tripline::control {

/// The first line of a connection.
std::string greeting();
std::string answer(const Request& request, const Outcome& outcome);
/// To a line that is no request.
std::string mistake(std::string_view what);
std::string status(const Request& request, const StationView& view);
std::string settings(const Request& request, const StationView& view);
std::string metrics(const Request& request, const StationView& view);
std::string overs(const Request& request, const std::vector<logbook::Over>& overs);
/// {"level": {...}}
std::string level(const audio::LevelFrame& frame, Hertz rate);
/// {"event": ...} around an event as replay writes it.
std::string event(std::string_view line);

}  // namespace tripline::control
