// Keeps the last minutes and writes them when asked to.
#pragma once

#include "config/settings.h"
#include "daemon/black_box/haste.h"
#include "daemon/black_box/memory.h"
#include "daemon/black_box/settings.h"
#include "daemon/black_box/shadow.h"

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace tripline::black_box {

/// One file of a capture, as it ended.
struct Outcome {
    std::filesystem::path sound;   ///< of a good one
    std::string failure;           ///< why it was not written; empty: it was
    std::chrono::system_clock::time_point ended{};  ///< of the sound
    Duration length{};             ///< of the sound
    std::uint64_t number = 0;      ///< of the request, from 1
    bool last = false;             ///< of that request
};

/// What is kept now. Holding it does not hinder the black box.
struct KeptSound {
    Past past;
    Hertz rate;
    Frames begin;                        ///< of the stream
    std::vector<station::Event> events;  ///< counted from the beginning of `past`
    config::Settings in_force;
};

/// When what is kept of one engine was heard.
struct Heard {
    std::chrono::system_clock::time_point began{};
    std::chrono::system_clock::time_point ended{};
};

/// How an engine starts.
struct Start {
    Hertz rate;
    Frames at;        ///< its frame count
    Frames hop;       ///< its detector's
    station::Mode mode = station::Mode::armed;
    std::vector<std::byte> memory;  ///< what it remembers from the one before, see station/memory.h; empty: nothing
    config::Settings in_force;
};

/// Not for the audio callback: it locks and allocates. Writing takes a thread of its own.
class BlackBox {
public:
    explicit BlackBox(Settings settings);
    /// Waits for captures that are being written: call finish() before.
    ~BlackBox();

    /// A new engine starts. What the last ones heard is written beside it by a capture, as far as it is within
    /// the length that is kept. Any thread.
    void begin(const Start& start);
    /// What the engine received, in order. Any thread, one at a time.
    void take(std::span<const Frame> frames);
    /// What the engine told, in order; captures when a forced end of an over is among it. Any
    /// thread, one at a time.
    void take(const station::Event& event);
    /// Writes what is kept, with what arrives in the next half second. `why` is a word of
    /// letters and dashes, for the name. False when too many wait already. Any thread.
    bool capture(std::string why);
    /// Nothing before the first engine has begun. Any thread.
    std::optional<KeptSound> kept();
    /// What a capture would write now, a stretch an engine, the oldest first. Any thread.
    std::vector<Heard> heard();
    /// Requests taken so far, those for a forced end of an over as well. Any thread.
    std::uint64_t asked();
    /// The daemon ends: captures that were asked for are written within the time, or deleted. Waits for that a little
    /// longer. False: the disk stands still, and what is there of one stays. Nothing may be asked for any more. Any thread.
    bool finish(Duration left);
    /// How a capture ended, each file once. Any thread.
    std::optional<Outcome> next_outcome();

private:
    struct Engine {
        Memory memory;
        Hertz rate;
        Frames at;
        config::Settings in_force;
        std::shared_ptr<Shadow> shadow;   // the writer's
        std::vector<std::byte> began_with;  // empty: an ear that has learnt nothing
        std::chrono::system_clock::time_point heard{};  // when the last frames came
    };

    void run(const std::stop_token& stop);
    void follow(std::unique_lock<std::mutex>& lock);
    void forget_earlier();
    std::vector<std::shared_ptr<Engine>> engines();
    void write(const std::string& why, std::uint64_t number);
    Outcome write(Engine& engine, const std::string& why);

    const Settings settings_;
    std::mutex mutex_;
    std::condition_variable_any asked_;
    std::shared_ptr<Engine> engine_;    // null: none has begun; under mutex_, as what it points to and all below
    std::deque<std::shared_ptr<Engine>> earlier_;  // those before, the oldest first, as far as they are within the length
    std::deque<std::string> wanted_;    // captures, not yet begun
    std::uint64_t asked_for_ = 0;
    std::deque<Outcome> outcomes_;
    bool finished_ = false;             // nothing is written any more
    std::condition_variable ended_;
    Haste haste_;
    std::jthread writer_;
};

}  // namespace tripline::black_box
