// How loud the microphone is against the receiver, block by block.
#pragma once

#include "dsp/level_spread.h"
#include "dsp/pair.h"
#include "dsp/units.h"

#include <algorithm>
#include <cmath>

namespace tripline::dsp {

/// Microphone power over receiver power, over one second every half second: peak against
/// peak, middle against middle and so on, of which the least counts, since a key click lifts
/// only the microphone's peaks and a fan only its pauses. One call a hop.
class Balance {
public:
    /// What a hop has brought.
    struct Block {
        bool ended = false;  ///< half a second is over
        float ratio = 0;     ///< then: of the last second; 0: there was no receiver sound to speak of
    };

    explicit Balance(double hop_seconds) : hops_a_block_(std::max(1L, std::lround(0.5 / hop_seconds))) {}

    Block operator()(Pair power) noexcept {
        now_.microphone.take(power[0]);
        now_.receiver.take(power[1]);
        if (++hops_ < hops_a_block_) return {};
        const Block block{true, at(1, &Spreads::receiver) > faint ? least_ratio() : 0.0F};
        last_ = now_;
        now_ = {};
        hops_ = 0;
        return block;
    }

    void reset() noexcept {
        now_ = last_ = {};
        hops_ = 0;
    }
    template <typename Visit> void memory(Visit& visit) {
        for (Spreads* spreads : {&now_, &last_}) {
            spreads->microphone.memory(visit);
            spreads->receiver.memory(visit);
        }
        visit(hops_);
    }

private:
    static constexpr Power faint = 1e-6F;  // -60 dBFS

    /// Of half a second.
    struct Spreads {
        LevelSpread microphone;
        LevelSpread receiver;
    };

    Power at(double share, LevelSpread Spreads::* side) const noexcept {
        return (now_.*side).at(share, last_.*side);
    }

    float least_ratio() const noexcept {
        float least = at(1, &Spreads::microphone) / at(1, &Spreads::receiver);
        for (const double share : {0.75, 0.5, 0.25}) {
            const Power receiver = at(share, &Spreads::receiver);
            if (receiver > faint) least = std::min(least, at(share, &Spreads::microphone) / receiver);
        }
        return least;
    }

    long hops_a_block_;
    Spreads now_, last_;
    long hops_ = 0;
};

}  // namespace tripline::dsp
