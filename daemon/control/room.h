// Who makes room where one client more comes than there are places. Pure: what is known of each is given.
#pragma once

#include "daemon/control/limits.h"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

namespace tripline::control {

struct Guest {
    bool spoke = false;
    bool waits = false;           ///< for the answer to a change
    bool waits_for_safe = false;  ///< to a safe
    Duration heard{0};            ///< when it last said something, or came
};

/// First who has said nothing for longer than it takes to say it; then who has had his answers, the most silent first; then who
/// has just come, or waits for an answer. Who waits for that to a safe goes last, unless those are so many that others could not
/// say theirs. `guests` is not empty.
inline std::size_t who_goes(const std::vector<Guest>& guests, Duration now) {
    const auto waiting = std::ranges::count_if(guests, &Guest::waits_for_safe);
    const bool few = waiting < static_cast<std::ptrdiff_t>(guests.size() / 2);
    const auto rank = [&](const Guest& guest) {
        if (few && guest.waits_for_safe) return 3;
        if (guest.waits) return 2;
        if (guest.spoke) return 1;
        return now - guest.heard > time_to_speak ? 0 : 2;
    };
    const auto goes = std::ranges::min_element(guests, {}, [&](const Guest& guest) { return std::pair(rank(guest), guest.heard); });
    return static_cast<std::size_t>(goes - guests.begin());
}

}  // namespace tripline::control
