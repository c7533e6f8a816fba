#include "tests/scene/room.h"

#include <algorithm>
#include <cmath>

namespace tripline::scene {

std::vector<float> room_response(const PathSettings& settings, std::uint64_t seed, Hertz rate) {
    Random random(seed);
    const auto length = static_cast<std::size_t>(to_frames(settings.reverberation, rate).count);
    std::vector<float> response(length + 1);
    double energy = 0;
    for (std::size_t i = 1; i < response.size(); ++i) {
        const double decay = std::pow(10.0, -3.0 * static_cast<double>(i) / static_cast<double>(length));
        response[i] = static_cast<float>(decay * random.normal());
        energy += static_cast<double>(response[i]) * response[i];
    }
    const double direct = to_ratio(settings.direct);
    const double tail_power = energy > 0 ? 1 / (1 + direct) : 0;
    const auto gain = static_cast<float>(energy > 0 ? std::sqrt(tail_power / energy) : 0);
    for (float& value : response) value *= gain;
    response[0] = static_cast<float>(std::sqrt(1 - tail_power));
    return response;
}

Path::Path(const PathSettings& settings, Dbfs level, std::uint64_t seed, Hertz rate)
    : drive_(settings.drive), scale_(static_cast<float>(2 * to_amplitude(Decibels{level.value}))) {
    const bool echoes = settings.reverberation > Duration::zero();
    const std::int64_t late = echoes ? static_cast<std::int64_t>(Convolver::block) : 0;
    const std::int64_t frames = to_frames(settings.delay, rate).count - late;
    ring_.resize(static_cast<std::size_t>(std::max<std::int64_t>(1, frames)));
    if (echoes) room_.emplace(room_response(settings, seed, rate));
}

/// Soft and lopsided saturation; small signals pass as they are.
float Path::distort(float in) const {
    if (drive_ <= 0) return in;
    const double x = static_cast<double>(in / scale_);
    const double bent = x + 0.15 * drive_ * x * x;
    return scale_ * static_cast<float>(std::tanh(drive_ * bent) / drive_);
}

float Path::operator()(float in) {
    const float arrived = ring_[at_];
    ring_[at_] = distort(in);
    at_ = (at_ + 1) % ring_.size();
    return room_ ? (*room_)(arrived) : arrived;
}

}  // namespace tripline::scene
