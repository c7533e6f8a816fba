// A scene as files: sound and labels.
#pragma once

#include "tests/scene/scene.h"

#include <string>

namespace tripline::scene {

struct FileSettings {
    std::string path;           ///< without extension; ".rttm" is added for the labels
    std::string extension = ".wav";
    Duration hold = 1500ms;     ///< hang time of the ideal station that mutes the receiver
    bool never_muted = false;   ///< the receiver plays on while the operator speaks
};

/// Writes microphone left and receiver right in 16 bit, and labels "near" on channel 1 and
/// "far" on channel 2. Throws std::runtime_error. Returns the number of the operator's overs.
std::size_t write_files(const FileSettings& settings, Scene& scene, Hertz rate);

}  // namespace tripline::scene
