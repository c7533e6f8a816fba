#include "daemon/audio/priority.h"

#include <gtest/gtest.h>
#include <sched.h>

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

}  // namespace
}  // namespace tripline::audio
