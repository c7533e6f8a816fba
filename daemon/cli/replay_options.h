// What the command line of `tripline replay` says.
#pragma once

#include "daemon/cli/config_options.h"
#include "daemon/replay/recording.h"
#include "daemon/replay/report.h"

#include <string>
#include <vector>

namespace tripline::cli {

struct ReplayOptions {
    std::vector<std::string> files;
    std::string monitor;     ///< empty: the receiver is in the same file
    int microphone_channel = 1;
    int receiver_channel = 0;
    bool no_receiver = false;
    std::string labels;      ///< empty: none, and no score
    std::string events;      ///< empty: not written
    bool json = false;
    replay::Limits limits;
    ConfigOptions config;

    replay::RecordingSource source(const std::string& file) const {
        return {file, monitor, microphone_channel, receiver_channel, no_receiver};
    }
    /// Those given; with labels, none missed and none false unless told otherwise.
    replay::Limits limits_in_force() const;
};

/// The options must outlive the command.
void add_replay_options(CLI::App& command, ReplayOptions& options);

/// Throws std::runtime_error for options that contradict each other.
void check(const ReplayOptions& options);

}  // namespace tripline::cli
