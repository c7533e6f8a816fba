// The thread between the audio callback and the guard: reads what the engine wants,
// asks the rule, and gives the guard its orders, every millisecond.
#pragma once

#include "daemon/audio/priority.h"
#include "daemon/audio/pulse.h"
#include "daemon/audio/ring.h"
#include "daemon/guard/client.h"
#include "daemon/service/keying_rule.h"
#include "daemon/service/slept_time.h"

#include <atomic>
#include <future>
#include <thread>

namespace tripline::service {

/// A change of the guard's condition, for the log.
struct GuardNews {
    guard::Status status;
    guard::Notice notice;
};

class KeyingThread {
public:
    struct Setup {
        guard::Plan plan;
        std::string guard_program;
        KeyingLimits limits;
        int priority = 0;  ///< SCHED_FIFO asked for; 0: do not ask
        bool operator==(const Setup&) const = default;
    };

    /// Starts the guard, which drives every line to rest, then the thread. Throws what
    /// guard::Client throws.
    KeyingThread(const Setup& setup, const audio::Pulse& pulse);
    ~KeyingThread() { (void)end(); }
    KeyingThread(const KeyingThread&) = delete;
    KeyingThread& operator=(const KeyingThread&) = delete;

    // For the service's thread.
    /// Releases the lines, ends the guard and the thread. Bounded by guard::Client's own bound.
    guard::Ending end();
    Trouble trouble() const noexcept { return trouble_.load(std::memory_order_acquire); }
    Trouble present() const noexcept { return present_.load(std::memory_order_acquire); }
    /// Asks to lift the latch; it lifts once nothing is wrong.
    void clear() noexcept { clear_.store(true, std::memory_order_release); }
    /// Forces the lines to rest until hold(false), whatever the engine wants.
    void hold(bool on) noexcept { hold_.store(on, std::memory_order_release); }
    /// The service is alive; without this for KeyingLimits::service the lines go to rest.
    void beat() noexcept { beats_.fetch_add(1, std::memory_order_relaxed); }
    bool next_news(GuardNews& news) noexcept { return news_.pop(news); }
    station::Lines driven() const noexcept { return audio::unpack(driven_.load(std::memory_order_acquire)); }
    /// How often the guard has told that it closes the key.
    std::uint32_t closings() const noexcept { return closings_.load(std::memory_order_acquire); }
    /// How often the thread woke more than `late` after its time.
    std::uint32_t late_wakes() const noexcept { return late_.load(std::memory_order_relaxed); }
    int thread() const noexcept { return thread_.load(std::memory_order_relaxed); }
    pid_t guard_pid() const noexcept { return guard_pid_.load(std::memory_order_relaxed); }

    static constexpr Duration period = std::chrono::milliseconds{1};
    static constexpr Duration late = std::chrono::milliseconds{20};

private:
    void run(const std::stop_token& stop, const Setup& setup, std::promise<void>& started);
    // Nothing here throws: were it otherwise the process ends, and the guard opens the key.
    void work(const std::stop_token& stop, guard::Client& client) noexcept;
    void step(guard::Client& client) noexcept;
    Sight look(const guard::Status& guard) noexcept;
    void tell(const guard::Client& client) noexcept;

    const audio::Pulse& pulse_;
    // The keying thread's own.
    KeyingRule rule_;
    SleptTime slept_;
    GuardNews told_;
    guard::Ending ending_ = guard::Ending::released;  // for the service's once the thread has ended
    // Written by the keying thread, read by the service's.
    std::atomic<Trouble> trouble_{Trouble::not_started};
    std::atomic<Trouble> present_{Trouble::not_started};
    std::atomic<std::uint8_t> driven_{0};
    std::atomic<std::uint32_t> closings_{0};
    std::atomic<std::uint32_t> late_{0};
    std::atomic<int> thread_{0};
    std::atomic<pid_t> guard_pid_{-1};
    audio::Ring<GuardNews> news_{32};
    // Written by the service's thread.
    std::atomic<bool> clear_{false};
    std::atomic<bool> hold_{false};
    std::atomic<std::uint64_t> beats_{0};
    std::jthread thread_object_;
};

}  // namespace tripline::service
