// What the audio callback lets other threads see, without a lock.
#pragma once

#include "daemon/station/event.h"

#include <atomic>
#include <cstdint>

namespace tripline::audio {

/// Three lines in one byte, so that they are read together.
constexpr std::uint8_t pack(station::Lines lines) {
    return static_cast<std::uint8_t>((lines.ptt ? 1U : 0U) | (lines.mute ? 2U : 0U) | (lines.antenna ? 4U : 0U));
}
constexpr station::Lines unpack(std::uint8_t bits) {
    return {.ptt = (bits & 1U) != 0, .mute = (bits & 2U) != 0, .antenna = (bits & 4U) != 0};
}

/// How the engine stands at one moment: read as one, so that no state is seen with another one's cause.
struct alignas(4) Stand {
    station::State state = station::State::rest;
    station::Reason reason = station::Reason::none;  ///< why the last change of the key began
    bool quiet_awaited = false;                      ///< locked out until the microphone has been quiet
};

/// Written by the callback only, read by any thread. Outlives every stream.
struct Pulse {
    std::atomic<std::uint64_t> blocks{0};          ///< grows while audio flows
    std::atomic<std::uint64_t> monitor_blocks{0};  ///< the same of a second device's stream
    std::atomic<std::int64_t> frames{0};           ///< position of the engine
    std::atomic<std::int64_t> lifeless_ns{0};      ///< every input exactly zero for so long
    std::atomic<std::uint8_t> lines{0};            ///< wanted, packed
    std::atomic<Stand> stand{Stand{}};
    std::atomic<station::Mode> mode{station::Mode::armed};
    std::atomic<bool> fault_obeyed{false};         ///< the engine knows of the standing fault
    std::atomic<std::uint32_t> flagged{0};         ///< blocks before which samples were lost
    std::atomic<std::uint32_t> events_lost{0};     ///< event ring full
    std::atomic<std::uint64_t> samples_lost{0};    ///< recording ring full
    std::atomic<int> thread{0};                    ///< kernel id of the callback's thread; 0: no block yet

    static_assert(std::atomic<std::uint64_t>::is_always_lock_free);
    static_assert(std::atomic<Stand>::is_always_lock_free);
};

}  // namespace tripline::audio
