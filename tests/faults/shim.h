// Faults put into a running guard through LD_PRELOAD: shared memory between test and guard.
#pragma once

#include <atomic>
#include <cstdint>

namespace tripline::faults {

/// Named in TRIPLINE_SHIM: a file of this size, mapped by both. The file whose path ends in
/// "alive/log" is the one whose writes can be made to fail or to hang.
struct Shim {
    std::atomic<int> write_errno{0};             ///< 0: writes succeed
    std::atomic<int> writes_to_fail{-1};         ///< so many, then they succeed; below 0: all
    std::atomic<bool> write_hangs{false};        ///< writes never return
    std::atomic<std::int64_t> write_failed_ns{0};  ///< CLOCK_MONOTONIC of the first that did
    std::atomic<std::int64_t> boottime_step_ns{0};  ///< added to CLOCK_BOOTTIME
    std::atomic<std::int64_t> realtime_step_ns{0};  ///< added to CLOCK_REALTIME
    std::atomic<int> waits{0};                   ///< calls of ppoll so far
    std::atomic<int> allocations{0};             ///< calls of malloc and free after the process's first
};

}  // namespace tripline::faults
