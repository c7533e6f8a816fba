// The engine inside the audio callback, with its wait-free doors to other threads.
#pragma once

#include "daemon/audio/chime.h"
#include "daemon/audio/frame.h"
#include "daemon/audio/level_tap.h"
#include "daemon/audio/lifeless.h"
#include "daemon/audio/pulse.h"
#include "daemon/audio/ring.h"
#include "daemon/audio/source.h"
#include "daemon/station/engine.h"

#include <array>
#include <vector>

namespace tripline::audio {

/// From the service to the engine.
struct Command {
    enum class Kind : std::uint8_t { mode, fault, reload, chime } kind = Kind::mode;
    station::Mode mode = station::Mode::armed;  ///< for Kind::mode
    bool standing = false;                      ///< for the others
};

/// The rings between the callback and the rest. Each has one producer, one consumer.
struct Doors {
    Ring<Command> commands{64};         ///< service to callback
    Ring<station::Event> events{4096};  ///< callback to service
    Ring<LevelFrame> levels{256};       ///< callback to service; when full the frame is left out
    Ring<Frame>* recording = nullptr;   ///< callback to recorder; none when nothing is recorded
};

class LiveEngine final : public BlockHandler, private station::EventSink {
public:
    /// Throws std::invalid_argument as Engine does. `pulse` and `doors` must outlive it.
    /// `before`, which gets no more blocks, passes on its mode, lock-out, fault and frame count,
    /// and at the same rate what it has learnt; of the echo model only if the `sound` goes on.
    LiveEngine(const station::Settings& settings, Hertz rate, Pulse& pulse, Doors& doors,
               LiveEngine* before = nullptr, station::Engine::Sound sound = station::Engine::Sound::anew);

    /// Before the source starts.
    Frames now() const noexcept { return engine_.now(); }
    station::Mode mode() const noexcept { return engine_.mode(); }
    /// What it remembers from the one before, see station/memory.h; empty: nothing.
    std::vector<std::byte> memory();

    void process(const station::Block& block) noexcept override;
    void flag() noexcept override { pulse_.flagged.fetch_add(1, std::memory_order_relaxed); }

private:
    void take(const station::Event& event) noexcept override;
    void obey_commands() noexcept;
    void obey(const Command& command) noexcept;
    station::Block with_chime(station::Block block) noexcept;
    void record(const station::Block& block) noexcept;
    void publish(const station::Block& block) noexcept;
    Stand stand() const noexcept;

    // All for the callback's thread, once it runs.
    Hertz rate_;
    station::Engine engine_;
    Lifeless lifeless_;
    LevelTap levels_;
    Chime chime_;
    std::vector<float> receiver_;  ///< the receiver's sound with the chime
    bool fault_ = false;
    bool learnt_ = false;          ///< from the one before
    station::Reason reason_;       ///< of the last change of the key, those of earlier engines included
    Pulse& pulse_;
    Doors& doors_;
};

}  // namespace tripline::audio
