#include "tests/faults/machine_watch.h"

#include <poll.h>
#include <pthread.h>
#include <sched.h>
#include <time.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <string>

namespace tripline::faults {
namespace {

/// Eighth figure of the first line, see proc_stat(5).
Duration stolen_since_boot() {
    std::ifstream file("/proc/stat");
    std::string cpu;
    long long figure = 0;
    file >> cpu;
    for (int i = 0; i < 8; ++i) file >> figure;
    return std::chrono::nanoseconds(std::chrono::seconds(figure)) / ::sysconf(_SC_CLK_TCK);
}

void sleep_until(Instant time) {
    const timespec at{.tv_sec = time / std::chrono::seconds(1), .tv_nsec = (time % std::chrono::seconds(1)).count()};
    while (::clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, nullptr) == EINTR) {}
}

std::vector<int> cores_to_run_on() {
    cpu_set_t allowed;
    CPU_ZERO(&allowed);
    ::sched_getaffinity(0, sizeof allowed, &allowed);
    std::vector<int> numbers;
    for (int i = 0; i < CPU_SETSIZE; ++i)
        if (CPU_ISSET(i, &allowed)) numbers.push_back(i);
    return numbers;
}

}  // namespace

MachineWatch::MachineWatch() : stolen_before_(stolen_since_boot()) {
    for (const int number : cores_to_run_on()) {
        Core& core = *cores_.emplace_back(std::make_unique<Core>());
        core.seen = now();
        core.thread = std::thread([this, &core, number] { watch(core, number); });
    }
}

MachineWatch::~MachineWatch() {
    ending_ = true;
    for (const auto& core : cores_) core->thread.join();
}

void MachineWatch::watch(Core& core, int number) {
    cpu_set_t here;
    CPU_ZERO(&here);
    CPU_SET(number, &here);
    ::pthread_setaffinity_np(::pthread_self(), sizeof here, &here);
    const sched_param wanted{priority};
    if (::pthread_setschedparam(::pthread_self(), SCHED_FIFO, &wanted) != 0) real_time_ = false;
    for (Instant due = now() + beat; !ending_; due = std::max(due, core.seen.load()) + beat) {
        sleep_until(due);
        const Instant woken = now();
        if (woken - due > blink) {
            const std::lock_guard lock(core.mutex);
            core.stalls.push_back({due, woken});
        }
        core.seen = woken;
    }
}

Duration MachineWatch::stood_still(Instant from, Instant to) const {
    const Instant patience = to + std::chrono::seconds(2);
    Duration longest{0};
    for (const auto& core : cores_) {
        while (core->seen.load() < to && now() < patience) ::poll(nullptr, 0, 1);
        const std::lock_guard lock(core->mutex);
        Duration still{0};
        for (const Stall& stall : core->stalls)
            still += std::max(Duration{0}, std::min(stall.woken, to) - std::max(stall.due, from));
        longest = std::max(longest, still);
    }
    return longest;
}

Duration MachineWatch::stolen() const { return stolen_since_boot() - stolen_before_; }

MachineWatch& machine() {
    static MachineWatch the_watch;
    return the_watch;
}

}  // namespace tripline::faults
