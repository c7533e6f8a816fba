// Tells a machine that stood still from a program that was late. On each core a thread of a
// higher priority than anything under test wakes up every millisecond and notes how late it is:
// nothing under test can delay it, a host that takes the core away does.
#pragma once

#include "tests/faults/line_log.h"

#include <atomic>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

namespace tripline::faults {

class MachineWatch {
public:
    static constexpr Duration beat = std::chrono::milliseconds(1);
    static constexpr Duration blink = std::chrono::milliseconds(3);  ///< lateness up to here is not noted
    static constexpr int priority = 81;                              ///< the guard's is 80

    /// Starts the threads. Without real-time priority they are as ordinary as what is tested.
    MachineWatch();
    ~MachineWatch();
    MachineWatch(const MachineWatch&) = delete;
    MachineWatch& operator=(const MachineWatch&) = delete;

    /// Any thread. How much of the time from `from` to `to` the core that stood still longest did.
    /// Waits until all cores are past `to`, at most two seconds.
    Duration stood_still(Instant from, Instant to) const;
    /// Any thread. Time that the host took from all cores since the start, as the kernel counts it.
    Duration stolen() const;
    bool real_time() const noexcept { return real_time_; }

private:
    struct Stall {
        Instant due{};
        Instant woken{};
    };
    struct Core {
        mutable std::mutex mutex;
        std::vector<Stall> stalls;      // under the mutex; the core's thread adds
        std::atomic<Instant> seen{{}};  // the core's thread writes
        std::thread thread;
    };
    void watch(Core& core, int number);

    std::atomic<bool> ending_{false};
    std::atomic<bool> real_time_{true};
    Duration stolen_before_;
    std::vector<std::unique_ptr<Core>> cores_;
};

/// The watch of this test program; starts at the first call.
MachineWatch& machine();

}  // namespace tripline::faults
