// What the station's engine remembered when what is kept of its sound begins.
#pragma once

#include "daemon/black_box/memory.h"
#include "daemon/station/engine.h"

namespace tripline::black_box {

/// A second engine that hears what the memory lets go: it stands where the station's engine stood
/// minutes ago. It follows the operator's mode by the events told. Used by one thread at a time.
class Shadow {
public:
    /// As the station's engine starts.
    Shadow(const station::Settings& settings, Hertz rate);

    /// What the station's engine remembered from the one before it, but for faults and what waits.
    void begin_with(std::span<const std::byte> memory);

    /// What the memory has let go, in order.
    void follow(const std::vector<Left>& left);

    /// Of the engine, where what was let go ends. Nothing when it did not tell the same events as the
    /// station's engine, as after a fault, or has an echo model, which is not kept.
    std::vector<std::byte> remembered();

private:
    void follow(const Left& left);
    void play(std::span<const Frame> frames);

    station::Engine engine_;
    std::vector<station::Event> told_;
    bool same_ = true;
};

}  // namespace tripline::black_box
