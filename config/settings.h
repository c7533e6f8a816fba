// Everything an operator can set, as one value. The defaults are those of the parts.
#pragma once

#include "daemon/audio/settings.h"
#include "daemon/control/settings.h"
#include "daemon/guard/settings.h"
#include "daemon/lines/settings.h"
#include "daemon/logbook/settings.h"
#include "daemon/station/settings.h"
#include "daemon/web/settings.h"

#include <chrono>
#include <string>

namespace tripline::config {

enum class LogLevel : unsigned char { error, warning, info, debug };

struct LogSettings {
    LogLevel level = LogLevel::info;
};

struct BlackBoxSettings {
    Duration length = std::chrono::minutes(4);   ///< an over that reached its longest time lies within
    std::string folder;
    int budget_mb = 500;
};

struct Settings {
    station::Settings station;
    lines::Wiring lines;
    audio::Settings audio;
    guard::Settings guard;
    LogSettings log;
    BlackBoxSettings black_box;
    control::Settings control;
    logbook::Settings logbook;
    web::Settings web;
};

inline lines::LineSettings& line(Settings& settings, lines::Role role) {
    return settings.lines[static_cast<std::size_t>(role)];
}
inline const lines::LineSettings& line(const Settings& settings, lines::Role role) {
    return settings.lines[static_cast<std::size_t>(role)];
}

}  // namespace tripline::config
