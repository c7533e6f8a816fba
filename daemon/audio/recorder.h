// Writes exactly the samples the engine received to a file, and gives them to a listener, from a
// thread of its own.
#pragma once

#include "daemon/audio/live_engine.h"

#include <atomic>
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <span>
#include <string>
#include <thread>
#include <vector>

namespace tripline::audio {

class Recorder {
public:
    /// Called in the recorder's thread with what the engine received, in order.
    using Listener = std::function<void(std::span<const Frame>)>;

    /// 32-bit float WAV, beyond 4 GiB RF64 (EBU Tech 3306), microphone left, receiver right; no file
    /// with an empty path. The listener may be empty. Throws Error.
    Recorder(const std::string& path, Hertz rate, Listener listener);
    /// As end().
    ~Recorder();

    /// Waits until all that is in the ring has gone to file and listener; nothing may come into it meanwhile.
    /// One thread at a time. False: not within the time.
    bool flush(Duration patience);

    /// Waits until all is in the file and that is closed, which a disk may keep from happening for long. Nothing may come
    /// into the ring any more. One thread at a time.
    void end();
    /// The listener is told nothing more. Any thread.
    void let_listener_go() noexcept { deaf_.store(true); }

    /// The callback's end.
    Ring<Frame>& ring() noexcept { return ring_; }
    /// The disk took no more; nothing is written from then on. Any thread.
    bool failed() const noexcept { return failed_.load(std::memory_order_relaxed); }

private:
    struct File;
    void run();
    void drain();
    void write(std::span<const Frame> frames);

    const Listener listener_;
    Ring<Frame> ring_;                  // callback and the writing thread
    std::vector<Frame> frames_;         // the writing thread
    std::unique_ptr<File> file_;        // the writing thread; null: none is written
    std::atomic<bool> stop_{false};     // any, as the next
    std::atomic<bool> deaf_{false};
    std::mutex mutex_;
    std::condition_variable changed_;
    unsigned flushes_asked_ = 0;        // under mutex_, as the next
    unsigned flushes_done_ = 0;
    std::atomic<bool> failed_{false};   // any
    std::thread writer_;
};

}  // namespace tripline::audio
