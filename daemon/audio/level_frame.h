// What the station's meters show: one a 25th of a second, plain data for a wait-free ring.
#pragma once

#include "daemon/station/state.h"
#include "dsp/echo/trust.h"
#include "dsp/heard.h"
#include "dsp/units.h"

#include <type_traits>

namespace tripline::audio {

/// The hop with the loudest microphone among those that ended a block within this 25th of a second.
struct LevelFrame {
    Frames at{};      ///< end of it, from the stream's start
    Frames on_air{};  ///< since the key of this over closed; 0 between overs
    station::State state = station::State::rest;
    station::Mode mode = station::Mode::armed;
    bool key = false;  ///< the key is wanted closed at the end of it
    dsp::Heard heard{};
    dsp::echo::Trust echo{};  ///< of its model; nothing is claimed with the envelope method
};

inline constexpr double level_frames_a_second = 25;

static_assert(std::is_trivially_copyable_v<LevelFrame>);

}  // namespace tripline::audio
