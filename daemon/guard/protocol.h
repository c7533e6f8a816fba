// What goes over the socket pair between the daemon and tripline-guard: plain messages
// of fixed size, SOCK_SEQPACKET, so that one read is one message.
#pragma once

#include "daemon/station/state.h"
#include "dsp/units.h"

#include <cstddef>
#include <cstdint>
#include <cstring>

namespace tripline::guard {

using std::chrono_literals::operator""ms;

inline constexpr std::uint32_t magic = 0x54475032;         // "TGP2": the version is in it
inline constexpr std::uint32_t notice_magic = 0x5447'4e31;  // "TGN1"

/// The daemon sends an order at every change and at least this often.
inline constexpr Duration heartbeat = 25ms;

/// Daemon to guard. What the lines shall be; the guard takes the steps between in safe
/// order and never sooner than their lead and lag times.
struct Order {
    std::uint32_t magic = guard::magic;
    std::uint32_t sequence = 0;  ///< grows by one a message
    std::uint8_t ptt = 0;        ///< 0 or 1; anything else is malformed
    std::uint8_t mute = 0;
    std::uint8_t antenna = 0;
    std::uint8_t alive = 0;      ///< 1: nothing is wrong, and the alive line gets its next edge
    std::uint32_t check = 0;     ///< set by seal()
};

/// Any condition but `good` has every line released or on its way to rest; it is lifted
/// by the first sound order with ptt 0, not sooner than 2 s after the last unsound one, except line_failed and stopped, which end the guard.
enum class Condition : std::uint8_t {
    good,           ///< orders are carried out
    silent,         ///< no order in time, or none yet
    too_long,       ///< the guard's own longest transmission is over
    malformed,      ///< a message of wrong size, sum, sequence or content
    contradictory,  ///< ptt without the antenna line, or either without the mute, where wired
    flood,          ///< more orders than a sound daemon sends
    line_failed,    ///< a line could not be driven, or reads back wrong
    stopped,        ///< told to end by a signal, or the backstop is gone
};

/// Guard to daemon: one when ready (sequence 0), one for each order, one at each change
/// of condition, and one before the key is closed.
struct Report {
    std::uint32_t magic = guard::magic;
    std::uint32_t sequence = 0;  ///< of the last sound order
    std::uint8_t ptt = 0;        ///< what the lines were last driven to, the key what it is about to be
    std::uint8_t mute = 0;
    std::uint8_t antenna = 0;
    Condition condition = Condition::good;
    std::uint8_t failed_role = 0;   ///< with line_failed: which line,
    std::uint8_t failed_error = 0;  ///< and its errno
    std::uint16_t reserved = 0;
    std::uint32_t check = 0;        ///< set by seal()
};

/// Guard to daemon at start: what it could not get, or why it gives up. Text ends in 0.
struct Notice {
    std::uint32_t magic = notice_magic;
    char text[508] = {};
};

static_assert(sizeof(Order) == 16 && sizeof(Report) == 20 && sizeof(Notice) == 512);

/// FNV-1a over everything before the last field: a torn or foreign message fails it.
template <typename Message>
std::uint32_t check_of(const Message& message) noexcept {
    std::uint8_t bytes[offsetof(Message, check)];
    std::memcpy(bytes, &message, sizeof bytes);
    std::uint32_t sum = 2166136261U;
    for (const std::uint8_t byte : bytes) sum = (sum ^ byte) * 16777619U;
    return sum;
}

template <typename Message>
void seal(Message& message) noexcept { message.check = check_of(message); }

template <typename Message>
bool sound(const Message& message) noexcept {
    return message.magic == magic && message.check == check_of(message);
}

}  // namespace tripline::guard
