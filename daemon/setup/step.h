// The steps of a guided session.
#pragma once

#include "dsp/units.h"

#include <array>
#include <cstdint>

namespace tripline::setup {

enum class Step : std::uint8_t { room, receiver, voice, soft };

struct StepText {
    Step step;
    const char* title;
    const char* wanted;   ///< what the operator is to do
    Duration length;      ///< of a take, unless another is wanted
    bool optional;
};

inline constexpr std::array steps{
    StepText{Step::room, "the room", "Be silent, and let the receiver be silent: squelch closed, or its output turned down.",
             std::chrono::seconds{10}, false},
    StepText{Step::receiver, "the receiver",
             "Let the receiver speak, as loud as you listen to it. Say nothing yourself.", std::chrono::seconds{20}, false},
    StepText{Step::voice, "your voice", "Let the receiver be silent. Speak all the time, as on the air.",
             std::chrono::seconds{20}, false},
    StepText{Step::soft, "your soft voice", "Let the receiver be silent. Speak as softly as you ever will.",
             std::chrono::seconds{10}, true}};

}  // namespace tripline::setup
