// Real-time priority and locked memory: asked for, and said as it is.
#pragma once

#include <string>

namespace tripline::audio {

/// What the kernel says of a thread after the asking.
struct Granted {
    bool real_time = false;  ///< SCHED_FIFO or SCHED_RR
    int priority = 0;
    std::string refusal;     ///< the system's reason when the asking failed; else empty
};

/// Asks SCHED_FIFO `priority` for the thread with this kernel id (0: the calling
/// thread), unless it is real-time already or `priority` is 0, and reads back.
Granted ask_priority(int thread, int priority);

/// Keeps what the process has mapped now in memory, each page once it has been used: a callback does not wait for
/// the disk to bring one back. What is mapped later is left alone, the sound that is kept above all. Empty, or the
/// system's reason against it.
std::string lock_memory();

}  // namespace tripline::audio
