#include "daemon/audio/recording_player.h"

#include <algorithm>

namespace tripline::audio {

namespace {

using Clock = std::chrono::steady_clock;

constexpr Duration block_time = std::chrono::milliseconds{10};

replay::Recording open(const replay::RecordingSource& files) {
    try {
        return replay::Recording(files);
    } catch (const std::exception& error) {
        throw Error(error.what());
    }
}

}  // namespace

RecordingPlayer::RecordingPlayer(const replay::RecordingSource& files)
    : file_(files.file.string()), recording_(open(files)), rate_(recording_.rate()) {}

RecordingPlayer::~RecordingPlayer() { RecordingPlayer::stop(); }

std::string RecordingPlayer::description() const {
    return file_ + " at " + std::to_string(static_cast<int>(rate_.value)) + " Hz, in real time";
}

void RecordingPlayer::start(BlockHandler& handler) {
    player_ = std::thread([this, &handler] { play(handler); });
}

void RecordingPlayer::stop() noexcept {
    stop_.store(true, std::memory_order_release);
    if (player_.joinable()) player_.join();
}

void RecordingPlayer::play(BlockHandler& handler) noexcept {
    try {
        play_all(handler);
    } catch (const std::exception& error) {
        failure_ = error.what();
    }
    ended_.store(true, std::memory_order_release);
}

void RecordingPlayer::play_all(BlockHandler& handler) {
    const auto piece = static_cast<std::size_t>(to_frames(block_time, rate_).count);
    const Clock::time_point start = Clock::now();
    Frames played{0};
    for (auto block = recording_.next(); !block.microphone.empty(); block = recording_.next()) {
        for (std::size_t at = 0; at < block.microphone.size(); at += piece) {
            if (stop_.load(std::memory_order_acquire)) return;
            const std::size_t frames = std::min(piece, block.microphone.size() - at);
            played += Frames{static_cast<std::int64_t>(frames)};
            std::this_thread::sleep_until(start + to_duration(played, rate_));
            handler.process({.microphone = block.microphone.subspan(at, frames),
                             .receiver = block.receiver.empty() ? block.receiver : block.receiver.subspan(at, frames)});
        }
    }
}

}  // namespace tripline::audio
