// How much later the receiver's sound is heard by the microphone.
#pragma once

#include "dsp/units.h"

#include <optional>
#include <span>
#include <vector>

namespace tripline::setup {

/// Brings both channels to 8 kHz or a little more, without their lowest sounds, and keeps
/// 20 s at most, in constant memory.
class Delay {
public:
    explicit Delay(Hertz rate);

    void push(float microphone, float receiver);
    /// Where the cross-correlation of the two is greatest, from 0 to 500 ms; nothing when it
    /// does not stand out, as when the microphone does not hear the receiver.
    std::optional<Duration> found() const;

private:
    struct Channel {
        float sum = 0;
        float last = 0;
        std::vector<float> samples;   ///< differences, which whitens speech
    };
    void take(Channel& channel, float sample, bool complete) const;

    std::size_t factor_;
    Hertz rate_;
    std::size_t in_sum_ = 0;
    Channel microphone_;
    Channel receiver_;
};

}  // namespace tripline::setup
