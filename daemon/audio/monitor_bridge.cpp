#include "daemon/audio/monitor_bridge.h"

#include <algorithm>

namespace tripline::audio {

void MonitorBridge::push(std::span<const float> samples) noexcept {
    ring_.push(samples);  // full: the first device has stopped pulling, the oldest stay
}

void MonitorBridge::pull(std::span<float> samples) noexcept {
    if (!primed_) primed_ = ring_.waiting() >= most_ / 2;
    float surplus = 0;
    while (ring_.waiting() > samples.size() + most_ && ring_.pop(surplus)) ++slips_;
    const std::size_t taken = primed_ ? ring_.pop(samples) : 0;
    std::fill(samples.begin() + static_cast<std::ptrdiff_t>(taken), samples.end(), 0.0F);
    if (primed_ && taken < samples.size()) {
        slips_ += samples.size() - taken;
        primed_ = false;  // wait for half a ring again, or every block would run short
    }
}

}  // namespace tripline::audio
