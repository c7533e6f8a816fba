// What the daemon is asked to do, and what its parts are told of it.
#pragma once

#include "config/settings.h"
#include "daemon/audio/pulse.h"
#include "daemon/replay/recording.h"
#include "daemon/service/audio_keeper.h"
#include "daemon/service/keying_thread.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tripline::service {

/// What a look at the settings file gave.
struct Reloaded {
    std::optional<config::Settings> settings;  ///< none: it has problems
    std::vector<std::string> problems;         ///< one text each, complete with place
};

struct Options {
    config::Settings settings;
    /// The settings anew, with what was set while running ("key=value"); empty: there is no source of them.
    std::function<Reloaded(const std::vector<std::string>& set)> reload;
    std::string settings_file;         ///< empty: none was given
    std::optional<replay::RecordingSource> recording;  ///< played as if live instead of sound devices
    std::string record_to;             ///< empty: samples are not recorded
    std::string events_to;             ///< empty: events are not written
    bool keys = false;                 ///< of a terminal: its keys change the mode, and it ends with it
    bool print_keying = false;         ///< a line on standard output for each change of the key
};

/// What the black box is to do: nothing with 0 minutes, or where no folder is set and the
/// service manager made none.
std::optional<black_box::Settings> black_box_of(const config::BlackBoxSettings& settings);
/// Which setting is missing where there is none; "it begins when the daemon is started anew" for settings that would do.
std::string why_no_black_box(const config::BlackBoxSettings& settings);
guard::Plan plan_of(const config::Settings& settings);
KeyingThread::Setup keying_setup(const Options& options);
/// Opens the recording, or else the sound devices.
OpenSource opener(const Options& options, audio::Pulse& pulse);
/// "a.wav" for the first, "a.2.wav" for the second: a source opened anew never
/// overwrites what was recorded before. Empty stays empty.
std::string numbered(const std::string& path, unsigned number);
/// Where the events go of a daemon that had opened the sound so often before it started afresh.
std::string events_file(const Options& options, unsigned opened);

}  // namespace tripline::service
