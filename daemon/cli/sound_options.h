// Which channels of a recording are which, on the command line.
#pragma once

#include "daemon/replay/recording.h"

#include <string>

namespace CLI {
class App;
}

namespace tripline::cli {

struct SoundOptions {
    std::string monitor;   ///< empty: the receiver is in the same file
    int microphone_channel = 1;
    int receiver_channel = 0;
    bool no_receiver = false;

    replay::RecordingSource source(const std::string& file) const {
        return {file, monitor, microphone_channel, receiver_channel, no_receiver};
    }
};

/// The options must outlive the command.
void add_sound_options(CLI::App& command, SoundOptions& options);

}  // namespace tripline::cli
