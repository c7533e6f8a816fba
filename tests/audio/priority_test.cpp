#include "daemon/audio/priority.h"

#include <gtest/gtest.h>
#include <sched.h>
#include <sys/mman.h>

#include <fstream>
#include <string>
#include <thread>

namespace tripline::audio {
namespace {

/// What asking gives in a thread of its own, and what the kernel says there.
std::pair<Granted, int> ask_in_a_thread(int priority) {
    std::pair<Granted, int> result;
    std::thread([&] {
        result.first = ask_priority(0, priority);
        result.second = ::sched_getscheduler(0) & ~SCHED_RESET_ON_FORK;
    }).join();
    return result;
}

TEST(RealTimePriority, IsReportedAsTheKernelHasIt) {
    const auto [granted, policy] = ask_in_a_thread(10);
    EXPECT_EQ(granted.real_time, policy == SCHED_FIFO);
    EXPECT_EQ(granted.real_time, granted.refusal.empty()) << granted.refusal;
    EXPECT_EQ(granted.priority, granted.real_time ? 10 : 0);
}

TEST(RealTimePriority, IsLeftAloneWhenNotAskedFor) {
    EXPECT_FALSE(ask_in_a_thread(0).first.real_time);
}

/// Of this process, as the kernel tells it (proc_pid_status(5)); in kB.
long locked_memory() {
    std::ifstream status("/proc/self/status");
    for (std::string line; std::getline(status, line);)
        if (line.starts_with("VmLck:")) return std::stol(line.substr(6));
    return -1;
}

TEST(LockedMemory, IsReportedAsTheKernelHasIt) {
    if (TRIPLINE_SANITIZED) GTEST_SKIP() << "a sanitizer lets no memory be locked";
    ASSERT_EQ(locked_memory(), 0);
    const std::string refusal = lock_memory();
    EXPECT_EQ(refusal.empty(), locked_memory() > 0) << refusal;
    ::munlockall();
}

}  // namespace
}  // namespace tripline::audio
