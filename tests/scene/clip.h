// One recording, brought to the scene's rate, with its labels.
#pragma once

#include "tests/scene/spurts.h"

#include <string>
#include <vector>

namespace tripline::scene {

struct Clip {
    std::vector<float> samples;  ///< mono, at the scene's rate
    Dbfs active_level{-200};     ///< ITU-T P.56, of the recording at its own rate
    std::vector<Spurt> spurts;   ///< found on the recording at its own rate
};

/// Any file libsndfile reads (channels are averaged), or a headerless ".raw" of 16 kHz
/// 16-bit samples as pocketsphinx-testdata has them.
/// Throws std::runtime_error naming the file.
Clip load_clip(const std::string& path, Hertz rate);

}  // namespace tripline::scene
