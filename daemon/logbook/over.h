// One over, as the station's log has it.
#pragma once

#include "daemon/logbook/mark.h"
#include "daemon/station/event.h"

#include <chrono>
#include <cstdint>
#include <type_traits>

namespace tripline::logbook {

/// Coordinated universal time, in milliseconds since 1970.
using WallTime = std::chrono::sys_time<std::chrono::milliseconds>;

struct Over {
    std::uint64_t number = 0;  ///< counted through the whole log, from 1
    WallTime began;
    std::chrono::milliseconds length{0};
    station::Reason keyed_by = station::Reason::none;
    station::Reason ended_by = station::Reason::none;
    Power peak = 0;       ///< loudest microphone in it
    Mark mark = Mark::none;  ///< false_key or late
};

static_assert(std::is_trivially_copyable_v<Over>);

}  // namespace tripline::logbook
