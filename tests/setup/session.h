// A session at a station of which everything is known.
#pragma once

#include "daemon/setup/survey.h"
#include "tests/scene/scene.h"

#include <filesystem>

namespace tripline::setup {

/// A station with a quiet room, a loudspeaker 14 dB under the voice at the microphone and 23 ms away, and a
/// receiver that is silent when nobody speaks there.
scene::SceneSettings known_station();

/// One after the other: the room alone, the receiver alone, the operator, the operator softly.
class Session {
public:
    /// Writes the recording. Throws std::runtime_error as Scene does.
    Session(scene::SceneSettings settings, Decibels soft, scene::Corpus& corpus);
    ~Session() { std::filesystem::remove(source_.file); }
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    const replay::RecordingSource& source() const { return source_; }
    const Stretches& stretches() const { return stretches_; }

private:
    replay::RecordingSource source_;
    Stretches stretches_;
};

}  // namespace tripline::setup
