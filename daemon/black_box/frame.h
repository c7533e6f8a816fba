// One moment of both channels.
#pragma once

namespace tripline::black_box {

/// Full scale is +-1.
struct Frame {
    float microphone = 0;
    float receiver = 0;
};

}  // namespace tripline::black_box
