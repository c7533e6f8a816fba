// Orders as a daemon would send them, for the tests.
#pragma once

#include "daemon/guard/protocol.h"

#include <span>

namespace tripline::guard {

inline constexpr station::Lines at_rest{};
inline constexpr station::Lines switching{.ptt = false, .mute = true, .antenna = true};
inline constexpr station::Lines keyed{.ptt = true, .mute = true, .antenna = true};

inline Order order(std::uint32_t sequence, station::Lines lines) {
    Order order;
    order.sequence = sequence;
    order.ptt = lines.ptt;
    order.mute = lines.mute;
    order.antenna = lines.antenna;
    order.alive = 1;
    seal(order);
    return order;
}

template <typename Message>
std::span<const std::byte> bytes(const Message& message) {
    return std::as_bytes(std::span(&message, 1));
}

}  // namespace tripline::guard
