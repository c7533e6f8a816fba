// What is heard in a hop, before anything is decided.
#pragma once

#include "dsp/balance.h"
#include "dsp/pair.h"
#include "dsp/units.h"

#include <array>
#include <cstddef>
#include <optional>

namespace tripline::dsp {

/// It depends on the frames so far, their rate, the voice band, the envelope and the windows of
/// steadiness, and on nothing else; with the echo method `low` depends on the model too.
struct Sounds {
    Pair peak{};      ///< powers of both inputs, held
    Pair average{};   ///< and not held
    Pair low{};       ///< not held, where a voice's pitch is
    std::array<Power, 3> means{};  ///< of the microphone's average, over the windows of SteadySettings
    Balance::Block balance{};      ///< of the averages
    Balance::Block low_balance{};  ///< of what is low
    std::size_t place = 0;         ///< of the hop's end, for Ear::periodicity()
    std::optional<float> periodicity{};   ///< 0 to 1; nothing: not computed
};

}  // namespace tripline::dsp
