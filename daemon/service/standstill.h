// Whether the service's thread stood still a moment ago.
#pragma once

#include "dsp/units.h"

#include <chrono>

namespace tripline::service {

/// What is read just after a standstill may have been commanded long before it was over. For the service's thread.
class Standstill {
public:
    static constexpr Duration longest_turn = std::chrono::milliseconds{500};
    static constexpr Duration doubt = std::chrono::seconds{1};   ///< for so long what was sent meanwhile may still arrive

    /// Each turn; of a clock that goes on while the machine sleeps.
    void turn(Duration now) noexcept {
        if (begun_ && now - last_ > longest_turn) ended_ = now;
        just_ended_ = ended_ > Duration{0} && now - ended_ < doubt;
        last_ = now;
        begun_ = true;
    }
    bool just_ended() const noexcept { return just_ended_; }

private:
    Duration last_{0};
    Duration ended_{0};
    bool begun_ = false;
    bool just_ended_ = false;
};

}  // namespace tripline::service
