#include "daemon/audio/seat.h"

#include <algorithm>
#include <chrono>
#include <thread>

namespace tripline::audio {

bool Seat::leave(Duration patience) noexcept {
    constexpr Duration pause = std::chrono::milliseconds{1};
    for (Duration waited{0}; waited <= patience; waited += pause) {
        if (handler_.exchange(nullptr, std::memory_order_acq_rel) != nullptr) return true;
        std::this_thread::sleep_for(pause);
    }
    return false;
}

void Seat::process(const station::Block& block) noexcept {
    BlockHandler* const handler = handler_.exchange(nullptr, std::memory_order_acq_rel);
    if (handler == nullptr) {
        std::ranges::fill(block.transmitter, 0.0F);
        std::ranges::fill(block.loudspeaker, 0.0F);
        return;
    }
    handler->process(block);
    handler_.store(handler, std::memory_order_release);
}

}  // namespace tripline::audio
