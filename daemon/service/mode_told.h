// Which modes of the engine the log tells of. A forced key that was refused was never one.
#pragma once

#include "daemon/station/event.h"

#include <optional>

namespace tripline::service {

/// Mode keyed is told once the station is on its way to the air, or on it. The mode that a refused key is left in is told only
/// if it is another than before. For one thread.
class ModeTold {
public:
    /// Every event in its turn; what is to be told now, or nothing.
    std::optional<station::Mode> take(const station::Event& event) noexcept {
        if (event.kind == station::EventKind::mode) return take_mode(event);
        if (event.kind != station::EventKind::state || !keyed_waits_ || !keying(event.to)) return std::nullopt;
        keyed_waits_ = false;
        return told_ = station::Mode::keyed;
    }

private:
    std::optional<station::Mode> take_mode(const station::Event& event) noexcept {
        const bool waited = keyed_waits_;
        keyed_waits_ = event.mode == station::Mode::keyed && !keying(event.to);
        if (keyed_waits_ || (waited && event.mode == told_)) return std::nullopt;
        return told_ = event.mode;
    }

    static bool keying(station::State state) noexcept {
        using enum station::State;
        return state == muting || state == antenna_to_transmit || state == settling || state == on_air || state == hold;
    }

    station::Mode told_ = station::Mode::armed;  ///< no key is forced from safe: else it was told before
    bool keyed_waits_ = false;                   ///< commanded, and nothing has come of it yet
};

}  // namespace tripline::service
