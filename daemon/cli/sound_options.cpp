#include "daemon/cli/sound_options.h"

#include <CLI/CLI.hpp>

namespace tripline::cli {

void add_sound_options(CLI::App& command, SoundOptions& o) {
    auto* monitor =
        command.add_option("--monitor", o.monitor, "The receiver's recording, if it is in its own file")
            ->type_name("FILE");
    command.add_option("--microphone-channel", o.microphone_channel, "Channel of FILE, from 1; default 1")
        ->check(CLI::Range(1, 1024));
    auto* channel =
        command
            .add_option("--receiver-channel", o.receiver_channel,
                        "Channel of FILE, from 1; default 2, or 1 of the monitor's file")
            ->check(CLI::Range(1, 1024));
    command.add_flag("--no-receiver", o.no_receiver, "There is no receiver audio")
        ->excludes(monitor)
        ->excludes(channel);
}

}  // namespace tripline::cli
