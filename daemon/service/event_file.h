// Writes the engine's events as lines of JSON, from a thread of its own, so that a slow
// or full disk holds up nobody.
#pragma once

#include "daemon/audio/ring.h"
#include "daemon/station/event.h"
#include "dsp/units.h"

#include <atomic>
#include <fstream>
#include <string>
#include <thread>

namespace tripline::service {

class EventFile {
public:
    /// Throws std::runtime_error when `path` can't be written.
    explicit EventFile(const std::string& path);
    /// Writes what waits.
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

    audio::Ring<Entry> ring_{4096};    // the service's thread, and the writing thread
    std::ofstream file_;               // the writing thread
    std::atomic<bool> stop_{false};    // any
    std::atomic<bool> failed_{false};  // any
    std::thread writer_;
};

}  // namespace tripline::service
