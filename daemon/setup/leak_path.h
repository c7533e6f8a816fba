// The way from the receiver's input to the microphone, worked out of a whole take.
#pragma once

#include "dsp/units.h"

#include <span>
#include <vector>

namespace tripline::setup {

/// The linear path that does not change and leaves least of the microphone unexplained: Wiener's filter, with
/// correlations over the whole take, solved by Levinson's recursion (N. Levinson, J. Math. Phys. 25 (1947) 261).
/// It begins 100 ms before the receiver, as the microphone may be first where the receiver comes through a second
/// device, and is 550 ms long. What the receiver cannot have made hardly moves it, however much of it there is:
/// speech at the microphone is no more like the receiver at one lag than at another.
class LeakPath {
public:
    LeakPath(std::span<const float> microphone, std::span<const float> receiver, Hertz rate);

    /// What of the microphone the receiver makes; as long as the receiver.
    std::vector<float> sound_of(std::span<const float> receiver) const;

    /// By how many samples, and parts of one, the other is later; negative: earlier. 0 too where the two are not alike.
    double shift_to(const LeakPath& other) const;

private:
    Hertz rate_;
    std::size_t before_;   // samples
    std::vector<float> taps_;
};

}  // namespace tripline::setup
