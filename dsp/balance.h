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
        bool ended = false;    ///< half a second is over
        Power microphone = 0;  ///< then: levels of the last second that are to be compared
        Power receiver = 0;    ///< 0: there was no sound to speak of
    };

    explicit Balance(double hop_seconds) : hops_a_block_(std::max(1L, std::lround(0.5 / hop_seconds))) {}

    Block operator()(Pair power) noexcept {
        now_.microphone.take(power[0]);
        now_.receiver.take(power[1]);
        if (++hops_ < hops_a_block_) return {};
        const Block block = least();
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

    Block least() const noexcept {
        Block least{true};
        for (const double share : {1.0, 0.75, 0.5, 0.25}) {
            const Power microphone = at(share, &Spreads::microphone);
            const Power receiver = at(share, &Spreads::receiver);
            if (receiver > faint && (least.receiver == 0 || microphone / receiver < least.microphone / least.receiver))
                least = {true, microphone, receiver};
        }
        return least;
    }

    long hops_a_block_;
    Spreads now_, last_;
    long hops_ = 0;
};

}  // namespace tripline::dsp
