// One moment of both channels.
#pragma once

namespace tripline::audio {

/// A frame as the daemon received it; full scale is +-1.
struct Frame {
    float microphone = 0;
    float receiver = 0;
};

}  // namespace tripline::audio
