// Where blocks of audio come from: a sound card or a recording, behind one seam.
#pragma once

#include "daemon/station/engine.h"
#include "dsp/units.h"

#include <stdexcept>
#include <string>

namespace tripline::audio {

/// The device is missing, named ambiguously, or refuses; the text lists what can be chosen.
struct Error : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Receives each block in the source's own real-time thread: must not block, allocate or throw.
class BlockHandler {
public:
    virtual void process(const station::Block& block) noexcept = 0;
    /// The source knows that samples before this block were lost.
    virtual void flag() noexcept = 0;
protected:
    ~BlockHandler() = default;
};

/// An open source. All members are for one thread, the one that opened it.
class Source {
public:
    virtual ~Source() = default;
    /// Blocks go to `handler` from now until stop(). Throws Error.
    virtual void start(BlockHandler& handler) = 0;
    /// No block is delivered after it returns.
    virtual void stop() noexcept = 0;
    virtual Hertz rate() const noexcept = 0;
    /// The source has ended by itself: recording played, device gone.
    virtual bool ended() const noexcept = 0;
    /// Why it ended; empty if there is nothing to say. After ended() only.
    virtual std::string failure() const { return {}; }
    /// One line for the log.
    virtual std::string description() const = 0;
};

}  // namespace tripline::audio
