// The watch itself: it must see what a host does to a machine, and not what a program does.
#include "tests/faults/machine_watch.h"

#include <gtest/gtest.h>
#include <poll.h>
#include <pthread.h>

namespace tripline::faults {
namespace {

/// Keeps every core from all lower real-time priorities for `time`. False: not permitted.
bool take_the_cores(int priority, Duration time) {
    std::atomic<bool> permitted{true};
    std::vector<std::thread> threads;
    for (unsigned i = 0; i < std::thread::hardware_concurrency(); ++i) {
        threads.emplace_back([&] {
            const sched_param wanted{priority};
            if (::pthread_setschedparam(::pthread_self(), SCHED_FIFO, &wanted) != 0) permitted = false;
            for (const Instant end = now() + time; permitted && now() < end;) {}
        });
    }
    for (std::thread& thread : threads) thread.join();
    return permitted;
}

TEST(TheMachineWatch, SeesThatTheMachineStoodStill) {
    machine();
    ::poll(nullptr, 0, 50);
    const Instant from = now();
    if (!take_the_cores(MachineWatch::priority + 1, std::chrono::milliseconds(40)))
        GTEST_SKIP() << "no real-time priority here";
    EXPECT_GE(machine().stood_still(from, now()), std::chrono::milliseconds(30));
}

TEST(TheMachineWatch, DoesNotTakeABusyProgramForAMachineThatStoodStill) {
    machine();
    ::poll(nullptr, 0, 50);
    const Instant from = now();
    if (!take_the_cores(MachineWatch::priority - 1, std::chrono::milliseconds(200)))
        GTEST_SKIP() << "no real-time priority here";
    EXPECT_LT(machine().stood_still(from, now()), std::chrono::milliseconds(150));
}

}  // namespace
}  // namespace tripline::faults
