// What goes over the socket pair between the daemon and tripline-guard: two plain
// messages of fixed size, SOCK_SEQPACKET, so that one read is one message.
#pragma once

#include "daemon/station/state.h"

#include <cstdint>

namespace tripline::guard {

inline constexpr std::uint32_t magic = 0x54475031;  // "TGP1": the version is in it

/// Daemon to guard, at every change and at least every `heartbeat`.
struct Order {
    std::uint32_t magic = guard::magic;
    std::uint32_t sequence = 0;   ///< grows by one a message
    std::uint8_t ptt = 0;         ///< 0 or 1; anything else is malformed
    std::uint8_t mute = 0;
    std::uint8_t antenna = 0;
    std::uint8_t reserved = 0;
    std::uint32_t check = 0;      ///< sum that a torn or foreign message fails
};

enum class Condition : std::uint8_t {
    good,            ///< orders are carried out
    silent,          ///< released: no message in time
    too_long,        ///< released: the guard's own longest transmission
    malformed,       ///< released: a message that makes no sense
    line_failed,     ///< released: a line could not be driven
};

/// Guard to daemon, one for each order and one at each change of condition.
struct Report {
    std::uint32_t magic = guard::magic;
    std::uint32_t sequence = 0;   ///< of the order it answers
    std::uint8_t ptt = 0;         ///< what the lines were driven to
    std::uint8_t mute = 0;
    std::uint8_t antenna = 0;
    Condition condition = Condition::good;
    std::uint32_t check = 0;
};

static_assert(sizeof(Order) == 16 && sizeof(Report) == 16);

}  // namespace tripline::guard
