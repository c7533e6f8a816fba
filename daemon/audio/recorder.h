// Writes exactly the samples the engine received to a file, from a thread of its own.
#pragma once

#include "daemon/audio/live_engine.h"

#include <atomic>
#include <memory>
#include <string>
#include <thread>

namespace tripline::audio {

class Recorder {
public:
    /// 32-bit float WAV, microphone left, receiver right. Throws Error.
    Recorder(const std::string& path, Hertz rate);
    ~Recorder();

    /// The callback's end.
    Ring<Frame>& ring() noexcept { return ring_; }
    /// The disk took no more; nothing is written from then on. Any thread.
    bool failed() const noexcept { return failed_.load(std::memory_order_relaxed); }

private:
    struct File;
    void run();
    void drain();

    Ring<Frame> ring_;                  // callback and the writing thread
    std::unique_ptr<File> file_;        // the writing thread
    std::atomic<bool> stop_{false};     // any
    std::atomic<bool> failed_{false};   // any
    std::thread writer_;
};

}  // namespace tripline::audio
