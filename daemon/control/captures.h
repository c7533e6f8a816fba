// What the black box has written, as the station tells it.
#pragma once

#include "daemon/logbook/over.h"

#include <cstdint>
#include <deque>
#include <string>
#include <vector>

namespace tripline::control {

/// One file of sound, or why there is none. A capture may have several, see black_box::BlackBox::begin().
struct Capture {
    std::uint64_t number = 0;     ///< of the request, from 1
    std::string sound;            ///< path; empty: it failed
    std::string failure;
    logbook::WallTime began{};    ///< of the sound
    logbook::WallTime ended{};
};

/// A stretch of sound that a capture would write now.
struct Heard {
    logbook::WallTime began{};
    logbook::WallTime ended{};
};

struct Captures {
    static constexpr std::size_t most = 16;

    std::uint64_t asked = 0;      ///< requests so far
    std::uint64_t ended = 0;      ///< of them, those that are written or failed
    std::vector<Heard> kept;      ///< what the black box has in memory, the oldest first
    std::deque<Capture> last;     ///< the oldest first, at most `most`

    void add(Capture capture) {
        last.push_back(std::move(capture));
        if (last.size() > most) last.pop_front();
    }
};

}  // namespace tripline::control
