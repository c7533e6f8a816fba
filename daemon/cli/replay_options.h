// What the command line of `tripline replay` says.
#pragma once

#include "daemon/cli/config_options.h"
#include "daemon/cli/sound_options.h"
#include "daemon/replay/report.h"

#include <string>
#include <vector>

namespace tripline::cli {

struct ReplayOptions {
    std::vector<std::string> files;
    SoundOptions sound;
    std::string labels;      ///< empty: none, and no score
    std::string events;      ///< empty: not written
    std::string memory;      ///< empty: the station has heard nothing yet
    std::string plot;        ///< empty: no picture
    bool json = false;
    replay::Limits limits;
    ConfigOptions config;

    replay::RecordingSource source(const std::string& file) const {
        return sound.source(file);
    }
    /// Those given; with labels, none missed, torn, false or held on unless told otherwise.
    replay::Limits limits_in_force() const;
};

/// The options must outlive the command.
void add_replay_options(CLI::App& command, ReplayOptions& options);

/// Throws std::runtime_error for options that contradict each other.
void check(const ReplayOptions& options);

}  // namespace tripline::cli
