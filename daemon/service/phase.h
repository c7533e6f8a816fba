// The phases of the service itself, and the one function that leads from one to another.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace tripline::service {

enum class Phase : std::uint8_t {
    starting,  ///< guard started, sound being opened for the first time
    waiting,   ///< a sound device or the guard is missing; trying again with back-off
    running,   ///< audio flows, the guard answers: the station can key
    stalled,   ///< it ran, and something on the way stopped: lines at rest, engine in fault
    stopping,  ///< told to end; lines released first
};
inline constexpr std::array all_phases{Phase::starting, Phase::waiting, Phase::running, Phase::stalled,
                                       Phase::stopping};

enum class Happening : std::uint8_t {
    healthy,  ///< audio flows and the guard answers, for long enough
    absent,   ///< a device or the guard could not be had
    trouble,  ///< the way from microphone to line is interrupted
    gave_up,  ///< the trouble lasted too long, or new settings are taken up
    stop,     ///< SIGTERM, SIGINT, or the recording is over
};
inline constexpr std::array all_happenings{Happening::healthy, Happening::absent, Happening::trouble,
                                           Happening::gave_up, Happening::stop};

constexpr Phase next(Phase phase, Happening happening) {
    if (phase == Phase::stopping || happening == Happening::stop) return Phase::stopping;
    switch (happening) {
        case Happening::healthy: return Phase::running;
        case Happening::absent: return Phase::waiting;
        case Happening::trouble: return phase == Phase::running ? Phase::stalled : phase;
        case Happening::gave_up: return Phase::waiting;
        case Happening::stop: break;
    }
    return Phase::stopping;
}

/// Only here may the engine's wish reach the lines.
constexpr bool may_key(Phase phase) { return phase == Phase::running; }

constexpr std::string_view name(Phase phase) {
    constexpr std::array<std::string_view, all_phases.size()> names{"starting", "waiting", "running", "stalled",
                                                                    "stopping"};
    return names[static_cast<std::size_t>(phase)];
}

}  // namespace tripline::service
