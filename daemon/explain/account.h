// All that is known of what the station did in a recording.
#pragma once

#include "config/settings.h"
#include "daemon/replay/playback.h"
#include "daemon/replay/span.h"

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tripline::explain {

/// What is explained: a recording, and the station that heard it.
struct Subject {
    replay::RecordingSource source;
    config::Settings settings;
    std::vector<std::byte> memory{};   ///< what the station remembered at its beginning, as replay::Watch has it
    std::vector<station::Event> commands{};   ///< that it was given, as replay::Watch has them; empty: replayed without
};

/// The verdict of one hop, and how the station stood.
struct Hop {
    Duration at{};   ///< its end
    dsp::Heard heard{};
    station::State state = station::State::rest;
    station::Mode mode = station::Mode::armed;
};

struct Account {
    Hertz rate{};
    Duration length{};
    std::vector<replay::Spell> spells;
    std::vector<station::Event> events;
    std::vector<Hop> hops;   ///< those that end within the window asked for
    std::optional<std::chrono::sys_time<std::chrono::milliseconds>> began{};   ///< when the recording does, where that is known
    bool commanded = false;      ///< a replay with the station's own commands
    bool of_a_capture = false;   ///< station.start_mode is the mode that the station was in when the recording begins, whatever had brought it

    Duration time_of(const station::Event& event) const { return to_duration(event.at, rate); }
    /// " (21:14:03.120 UTC)"; empty where it is not known when the recording began.
    std::string clock(Duration at) const;
    /// The transmission, or the way to it, at a time; null for none.
    const replay::Spell* spell_at(Duration at) const;
    /// How long the receiver had been on again at a time; nothing while it was mute, or if it never was before.
    std::optional<Duration> since_unmute(Duration at) const;
};

/// "from 11.323 s to 19.513 s", "from before the recording to 2.323 s".
std::string keyed_in_words(const replay::Spell& spell);

/// Plays all of it, and keeps the hops in the window. `progress` may be empty. Throws as replay::play() does.
Account account_of(const Subject& subject, const replay::Span& window,
                   const std::function<void(double share)>& progress);

}  // namespace tripline::explain
