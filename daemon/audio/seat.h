// The engine's place at a source: one engine leaves it and another takes it while the sound goes on.
#pragma once

#include "daemon/audio/pulse.h"
#include "daemon/audio/source.h"

#include <atomic>

namespace tripline::audio {

/// While nobody sits here, blocks are answered with silence and count as no sound.
class Seat final : public BlockHandler {
public:
    explicit Seat(Pulse& pulse) noexcept : pulse_(pulse) {}

    // The owner's thread.
    /// Blocks go to `handler`. Only when the seat is empty.
    void take(BlockHandler& handler) noexcept { handler_.store(&handler, std::memory_order_release); }
    /// True: no block reaches the handler from now on. False: the callback has not come back from it within
    /// `patience`, and nothing has changed.
    bool leave(Duration patience) noexcept;

    // The callback's thread.
    void process(const station::Block& block) noexcept override;
    // Any callback's thread.
    void flag() noexcept override { pulse_.flagged.fetch_add(1, std::memory_order_relaxed); }

private:
    Pulse& pulse_;
    std::atomic<BlockHandler*> handler_{nullptr};  // null as well while the callback has it in hand
};

}  // namespace tripline::audio
