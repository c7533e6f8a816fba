// The station as the service knows it at one moment.
#pragma once

#include "config/settings.h"
#include "daemon/audio/level_frame.h"
#include "daemon/control/captures.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tripline::control {

struct Counters {
    std::uint64_t blocks = 0;
    std::uint64_t blocks_flagged = 0;
    std::uint64_t events_lost = 0;
    std::uint64_t keying_late = 0;
    std::uint64_t guard_starts = 0;
    std::uint64_t overs = 0;
    Duration keyed{0};
};

struct StationView {
    std::string phase;   ///< of the service: "running" ...
    std::string trouble; ///< why it is not running; or empty
    std::vector<std::string> missing;  ///< of what the settings ask for, and why: "no page: ..."
    std::string sound;   ///< what is open; or empty
    Hertz rate{0};       ///< 0: no sound open
    station::Mode wanted = station::Mode::armed;
    station::Mode mode = station::Mode::armed;     ///< the engine's
    station::State state = station::State::rest;
    bool quiet_awaited = false;                    ///< locked out until the microphone has been quiet
    station::Lines driven;                         ///< what the guard says it drives
    std::string reason = "none";                   ///< of the last change of the key
    std::optional<dsp::echo::Trust> echo;          ///< of the echo model; none with the envelope method
    bool identify = false;                         ///< the operator was reminded, and has not spoken since
    std::string page;                              ///< address of the page with its token; or empty
    int process = 0;                               ///< the daemon's; 0: unknown
    std::string settings_file;                     ///< or empty
    std::vector<std::string> set;                  ///< "key=value", set while running, not saved
    bool settings_pending = false;                 ///< new ones wait for the lines to come to rest
    std::shared_ptr<const config::Settings> settings;  ///< in force
    Captures captures;                             ///< of the black box; none without one
    Counters counters;
};

}  // namespace tripline::control
