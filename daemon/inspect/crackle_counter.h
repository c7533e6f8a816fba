// Crackle of a worn control or a loose plug: single steps in an otherwise calm signal.
#pragma once

#include "dsp/units.h"

#include <array>

namespace tripline::inspect {

/// Looks at the second difference, in which a step of one sample stands far above its
/// surroundings. A key of a keyboard or a relay rings for milliseconds and does not; nor does
/// a voice, whose pulses come several in the time looked at.
class CrackleCounter {
public:
    explicit CrackleCounter(Hertz rate);

    void push(float sample) noexcept;
    long crackles() const { return crackles_; }

private:
    struct Part {
        float highest = 0;   ///< squared
        double energy = 0;
    };
    /// Parts of half a millisecond: the middle one is judged against the rest.
    static constexpr std::size_t part_count = 41;

    void end_part() noexcept;
    bool stands_out(std::size_t middle) const noexcept;
    const Part& part(std::size_t from_oldest) const noexcept {
        return parts_[(oldest_ + from_oldest) % part_count];
    }

    long part_length_;
    std::array<Part, part_count> parts_{};
    std::size_t oldest_ = 0;
    std::size_t filled_ = 0;
    Part now_;
    long in_part_ = 0;
    float last_ = 0;
    float before_ = 0;
    int deaf_ = 0;   ///< parts until the next one may be counted
    long crackles_ = 0;
};

}  // namespace tripline::inspect
