// A forced key on its way to the engine: what became of it.
#pragma once

#include "daemon/audio/pulse.h"
#include "dsp/units.h"

#include <cstdint>

namespace tripline::service {

/// For the service's thread.
class ForcedKey {
public:
    enum class Fate : std::uint8_t {
        waits,       ///< not known yet
        obeyed,      ///< the station is on its way to the air, or on it
        refused,     ///< the engine has taken the command, and something forbids the air
        overtaken,   ///< another command came after it
        unanswered,  ///< no sound has come to take it
    };
    static constexpr Duration patience = std::chrono::milliseconds{100};

    explicit ForcedKey(const audio::Pulse& pulse) : pulse_(pulse) {}

    /// The command has just gone into the ring.
    void sent(Duration now) {
        // The block under way may have looked into the ring before; the one after it has not.
        known_at_ = pulse_.blocks.load(std::memory_order_acquire) + 2;
        until_ = now + patience;
    }

    /// `wanted` is the mode commanded last.
    Fate look(station::Mode wanted, Duration now) const {
        if (wanted != station::Mode::keyed) return Fate::overtaken;
        if (pulse_.blocks.load(std::memory_order_acquire) < known_at_)
            return now < until_ ? Fate::waits : Fate::unanswered;
        return of(pulse_.stand.load(std::memory_order_relaxed).state, now);
    }

private:
    Fate of(station::State state, Duration now) const {
        using enum station::State;
        switch (state) {
            case muting:
            case antenna_to_transmit:
            case settling:
            case on_air:
            case hold: return Fate::obeyed;
            case rest:
            case locked_out: return Fate::refused;
            case unkeying:
            case antenna_to_receive:
            case unmuting: break;  // it may still turn round
        }
        return now < until_ ? Fate::waits : Fate::refused;
    }

    const audio::Pulse& pulse_;
    std::uint64_t known_at_ = 0;
    Duration until_{0};
};

}  // namespace tripline::service
