// The last minutes of both channels, and what the engine told of them.
#pragma once

#include "daemon/audio/frame.h"
#include "daemon/station/event.h"

#include <deque>
#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace tripline::black_box {

using audio::Frame;

/// About a second of frames.
using Chunk = std::vector<Frame>;

/// Frames in order. Holding it does not hinder the memory that it came from.
using Past = std::vector<std::shared_ptr<const Chunk>>;

/// What was let go: a chunk, and the events that fell into it, counted from the engine's start.
struct Left {
    std::shared_ptr<const Chunk> frames;
    std::vector<station::Event> events;
};

/// Frames are counted from the engine's start. Memory grows with what is kept, a chunk at a
/// time, up to the length. Used by one thread at a time.
class Memory {
public:
    /// `hop` as the detector's: what is kept begins at a multiple of it after the start.
    Memory(Hertz rate, Frames hop, Duration length);

    void add(std::span<const Frame> frames);
    /// `at` counted from the engine's start.
    void add(const station::Event& event);

    /// What is kept: from the first frame up to, not including, the second.
    Frames begin() const { return begin_; }
    Frames end() const { return end_; }
    /// All of it since the engine's start: nothing has been let go yet.
    bool complete() const { return begin_.count == 0; }
    Past past() const;
    /// Those within it, counted from its beginning.
    std::vector<station::Event> events() const;
    /// What was let go since the last call, in order.
    std::vector<Left> take_left() { return std::exchange(left_, {}); }
    bool has_left() const { return !left_.empty(); }
    /// The mode when what is kept begins.
    station::Mode mode_at_begin() const { return mode_; }
    void set_mode_at_begin(station::Mode mode) { mode_ = mode; }

private:
    void forget();

    std::size_t frames_a_chunk_;   // a whole number of hops
    std::size_t most_chunks_;
    std::deque<std::shared_ptr<Chunk>> chunks_;
    Frames begin_;
    Frames end_;
    std::deque<station::Event> events_;
    std::vector<Left> left_;
    station::Mode mode_ = station::Mode::armed;
};

}  // namespace tripline::black_box
