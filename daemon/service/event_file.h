// Writes the engine's events as lines of JSON, from a thread of its own, so that a slow
// or full disk, or a pipe that is not read, holds up nobody.
#pragma once

#include "daemon/audio/ring.h"
#include "daemon/lines/descriptor.h"
#include "daemon/station/event.h"
#include "dsp/units.h"

#include <atomic>
#include <string>
#include <string_view>
#include <thread>

namespace tripline::service {

class EventFile {
public:
    /// A longer end is not waited for.
    static constexpr std::chrono::milliseconds longest_end{500};

    /// Throws std::runtime_error when `path` can't be written, or is a pipe that nobody reads.
    explicit EventFile(const std::string& path);
    /// Writes what waits, for `longest_end` at most where the file lets it wait.
    ~EventFile();

    /// The service's thread. An event beyond 4096 waiting is dropped, and failed().
    void write(const station::Event& event, Hertz rate) noexcept;
    /// Something could not be written. Any thread.
    bool failed() const noexcept { return failed_.load(std::memory_order_relaxed); }

private:
    struct Entry {
        station::Event event;
        Hertz rate;
    };
    void run();
    void drain();
    /// False: not all of it.
    bool put(std::string_view text);
    bool may_wait();

    audio::Ring<Entry> ring_{4096};    // the service's thread, and the writing thread
    lines::Descriptor file_;           // the writing thread
    std::chrono::milliseconds waited_at_end_{0};  // the writing thread
    bool torn_ = false;                // the writing thread; the last line has no end
    std::atomic<bool> stop_{false};    // any
    std::atomic<bool> failed_{false};  // any
    std::thread writer_;
};

}  // namespace tripline::service
