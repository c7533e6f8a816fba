// What the black box writes.
#pragma once

#include "config/settings.h"
#include "daemon/black_box/sound_file.h"

#include <string>
#include <vector>

namespace tripline::black_box {

/// A stretch of the station's past, ready to be written.
struct Stretch {
    Hertz rate{};
    Past past;
    bool complete = false;                ///< it begins with the engine
    station::Mode mode = station::Mode::armed;  ///< at the beginning
    std::vector<std::byte> memory;        ///< what the station remembered there; empty: nothing, or not known
    std::vector<station::Event> events;   ///< counted from the beginning of `past`
    std::string why;                      ///< one word: part of the name
    std::string time;                     ///< "20261125-211403": part of the name
};

/// Writes files that differ in their extension: the sound; .events.jsonl, the station's
/// events, as `tripline replay --events` writes them; .rttm, when a voice was heard on the
/// microphone; .toml, the settings that were in force; .memory, what the station remembered at the
/// beginning, unless that is nothing; .txt, what all this is, and from where
/// on a replay gives the same events, which is not tried in haste. Returns the sound's path. Throws std::runtime_error and
/// std::filesystem::filesystem_error; what was written of a failed capture is deleted.
std::filesystem::path write_capture(const std::filesystem::path& folder, const Stretch& stretch,
                                    const config::Settings& in_force, const Haste& haste);

}  // namespace tripline::black_box
