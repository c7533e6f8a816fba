// Takes a frame of levels from the engine 25 times a second. Callback-safe.
#pragma once

#include "daemon/audio/level_frame.h"
#include "daemon/station/engine.h"

namespace tripline::audio {

/// For one thread.
class LevelTap {
public:
    explicit LevelTap(Hertz rate) : every_(to_frames(std::chrono::milliseconds{40}, rate)) {}

    /// After each block. True when a frame is complete.
    bool look(const station::Engine& engine, LevelFrame& frame) noexcept {
        const dsp::Heard& heard = engine.heard();
        if (fresh_ || heard.measures.microphone > loudest_.measures.microphone) loudest_ = heard;
        fresh_ = false;
        if (engine.now() < due_) return false;
        due_ = engine.now() + every_;
        fresh_ = true;
        frame = {.at = engine.now(), .on_air = engine.clocks().on_air, .state = engine.state(),
                 .mode = engine.mode(), .key = engine.lines().ptt, .heard = loudest_,
                 .echo = engine.detector().trust()};
        return true;
    }

private:
    Frames every_;
    Frames due_;
    bool fresh_ = true;
    dsp::Heard loudest_;
};

}  // namespace tripline::audio
