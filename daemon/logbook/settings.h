// The station's log of overs, and the reminder to identify.
#pragma once

#include "dsp/units.h"

#include <string>

namespace tripline::logbook {

using std::chrono_literals::operator""min;

struct Settings {
    std::string file;                 ///< empty: in the service's own state folder, if it has one; "none": no log
    Duration identify_every = 10min;  ///< of operation; 0: no reminder. 47 CFR 97.119(a): at least every 10 minutes
    bool identify_tone = false;       ///< also a soft tone in the loudspeaker
};

/// The one in force; empty: none. `state_folder`: what the service manager made, or empty.
inline std::string log_path(const Settings& settings, const std::string& state_folder) {
    if (settings.file == "none") return {};
    if (!settings.file.empty()) return settings.file;
    return state_folder.empty() ? std::string() : state_folder + "/overs.jsonl";
}

}  // namespace tripline::logbook
