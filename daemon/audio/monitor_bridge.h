// Carries the receiver's audio from a second device's callback into the first's. The
// two clocks differ, so now and then a frame is left out or a silent one put in.
#pragma once

#include "daemon/audio/ring.h"

#include <cstdint>
#include <span>

namespace tripline::audio {

class MonitorBridge {
public:
    /// `most` frames may wait; twice a block of either device is enough.
    explicit MonitorBridge(std::size_t most) : ring_(most * 2), most_(most) {}

    /// The second device's callback.
    void push(std::span<const float> samples) noexcept;
    /// The first device's callback: fills `samples`, with silence where none waits.
    void pull(std::span<float> samples) noexcept;

    /// Frames put in or left out so far; for the first device's callback.
    std::uint64_t slips() const noexcept { return slips_; }

private:
    Ring<float> ring_;
    std::size_t most_;
    bool primed_ = false;       // first device's callback
    std::uint64_t slips_ = 0;   // first device's callback
};

}  // namespace tripline::audio
