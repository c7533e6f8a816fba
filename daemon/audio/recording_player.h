// A recording played in real time through the same path as live sound.
#pragma once

#include "daemon/audio/source.h"
#include "daemon/replay/recording.h"

#include <atomic>
#include <string>
#include <thread>

namespace tripline::audio {

class RecordingPlayer final : public Source {
public:
    /// Throws Error naming the file and the reason.
    explicit RecordingPlayer(const replay::RecordingSource& files);
    ~RecordingPlayer() override;

    void start(BlockHandler& handler) override;
    void stop() noexcept override;
    Hertz rate() const noexcept override { return rate_; }
    bool ended() const noexcept override { return ended_.load(std::memory_order_acquire); }
    /// Why it ended before the end of the file; empty if it did not. After ended() only.
    std::string failure() const override { return failure_; }
    std::string description() const override;

private:
    void play(BlockHandler& handler) noexcept;
    void play_all(BlockHandler& handler);

    std::string file_;
    replay::Recording recording_;       // the playing thread, while it runs
    Hertz rate_;
    std::string failure_;               // the playing thread, until ended_
    std::atomic<bool> stop_{false};     // any
    std::atomic<bool> ended_{false};    // any
    std::thread player_;                // the owner's
};

}  // namespace tripline::audio
