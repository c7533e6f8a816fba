#include "daemon/service/keying_thread.h"

#include <pthread.h>
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>

#include <cstdio>
#include <cstring>
#include <optional>

namespace tripline::service {

namespace {

Duration read_clock(clockid_t clock) {
    timespec now{};
    ::clock_gettime(clock, &now);
    return std::chrono::seconds{now.tv_sec} + std::chrono::nanoseconds{now.tv_nsec};
}

void sleep_until(Duration due) {
    const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(due);
    const timespec at{.tv_sec = seconds.count(), .tv_nsec = (due - seconds).count()};
    ::clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, nullptr);  // woken early: one step more, no harm
}

bool same(const guard::Status& a, const guard::Status& b) {
    return a.link == b.link && a.condition == b.condition && a.starts == b.starts;
}

}  // namespace

KeyingThread::KeyingThread(const Setup& setup, const audio::Pulse& pulse) : pulse_(pulse), rule_(setup.limits) {
    std::promise<void> started;
    std::future<void> outcome = started.get_future();
    thread_object_ = std::jthread([this, setup, promise = std::move(started)](const std::stop_token& stop) mutable {
        run(stop, setup, promise);
    });
    outcome.get();
}

guard::Ending KeyingThread::end() {
    thread_object_.request_stop();
    if (thread_object_.joinable()) thread_object_.join();
    return ending_;
}

void KeyingThread::run(const std::stop_token& stop, const Setup& setup, std::promise<void>& started) {
    ::pthread_setname_np(::pthread_self(), "keying");
    thread_.store(static_cast<int>(::syscall(SYS_gettid)));
    std::optional<guard::Client> client;  // ends with this thread, as it asks for
    try {
        client.emplace(setup.plan, setup.guard_program);
        audio::ask_priority(0, setup.priority);
    } catch (...) {
        started.set_exception(std::current_exception());
        return;
    }
    started.set_value();
    work(stop, *client);
}

void KeyingThread::work(const std::stop_token& stop, guard::Client& client) noexcept {
    Duration due = read_clock(CLOCK_MONOTONIC);
    while (!stop.stop_requested()) {
        step(client);
        due += period;
        const Duration now = read_clock(CLOCK_MONOTONIC);
        if (now - due > late) late_.fetch_add(1, std::memory_order_relaxed);
        if (now > due) due = now;  // never catch up in a burst
        sleep_until(due);
    }
    for (int i = 0; i < 50 && client.status().driven != station::Lines{}; ++i) {  // at most 50 ms
        client.tend({}, false, guard::TimePoint::clock::now());
        sleep_until(read_clock(CLOCK_MONOTONIC) + period);
    }
    ending_ = client.close();
}

void KeyingThread::step(guard::Client& client) noexcept {
    if (clear_.exchange(false, std::memory_order_acq_rel)) rule_.clear();
    const station::Lines lines = rule_.decide(look(client.status()));
    client.tend(lines, rule_.well(), guard::TimePoint::clock::now());
    closings_.store(client.status().closings, std::memory_order_release);  // who sees the trouble sees these as well
    trouble_.store(rule_.trouble(), std::memory_order_release);
    present_.store(rule_.present(), std::memory_order_release);
    driven_.store(audio::pack(client.status().driven), std::memory_order_release);
    guard_pid_.store(client.pid(), std::memory_order_relaxed);
    tell(client);
}

Sight KeyingThread::look(const guard::Status& guard) noexcept {
    const Duration with_sleep = read_clock(CLOCK_BOOTTIME);  // first, see SleptTime
    const Duration awake = read_clock(CLOCK_MONOTONIC);
    return {.monotonic = awake,
            .slept = slept_.told_by(with_sleep, awake),
            .blocks = pulse_.blocks.load(std::memory_order_acquire),
            .monitor_blocks = pulse_.monitor_blocks.load(std::memory_order_acquire),
            .lifeless = Duration{pulse_.lifeless_ns.load(std::memory_order_relaxed)},
            .service_beats = beats_.load(std::memory_order_relaxed),
            .guard_sound = guard.sound(),
            .forced_to_rest = hold_.load(std::memory_order_acquire),
            .wanted = audio::unpack(pulse_.lines.load(std::memory_order_acquire))};
}

void KeyingThread::tell(const guard::Client& client) noexcept {
    const bool noticed = std::strncmp(client.notice(), told_.notice.text, sizeof told_.notice.text) != 0;
    if (!noticed && same(client.status(), told_.status)) return;
    told_.status = client.status();
    std::snprintf(told_.notice.text, sizeof told_.notice.text, "%s", client.notice());
    news_.push(told_);  // full: the service is stuck, and its watchdog will say so
}

}  // namespace tripline::service
