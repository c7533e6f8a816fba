#include "tests/scene/relays.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tripline::scene {
namespace {

constexpr int modes_of_chassis = 10;
constexpr double lowest_hz = 80, highest_hz = 5000;

}  // namespace

Relays::Relays(Dbfs peak, std::uint64_t seed, Hertz rate) : random_(seed), rate_(rate.value) {
    double sum = 0;   // of the amplitudes
    const double step = std::log(highest_hz / lowest_hz) / modes_of_chassis;
    for (int i = 0; i < modes_of_chassis; ++i) {
        const double hz = std::min(lowest_hz * std::exp(step * (i + random_.uniform())), 0.45 * rate_);
        const double decay = std::exp(-1 / (random_.between(0.006, 0.020) * rate_));
        const double turn = 2 * std::numbers::pi * hz / rate_;
        const double amplitude = random_.between(0.3, 1);
        modes_.push_back({2 * decay * std::cos(turn), -decay * decay, amplitude * std::sin(turn)});
        sum += amplitude;
    }
    for (Armature& armature : armatures_)
        armature = {std::llround(random_.between(0.003, 0.012) * rate_), random_.between(0.5, 1)};
    // The modes soon fall out of step: their highest sum is about half of what they could make together.
    level_ = to_amplitude(Decibels{peak.value}) / (0.5 * sum);
}

double Relays::Mode::next(double strike) {
    const double now = b1 * last + b2 * before + strike;
    before = last;
    last = now;
    return gain * now;
}

void Relays::move(std::size_t relay) {
    const Armature& armature = armatures_.at(relay);
    std::int64_t at = armature.travel;
    double force = armature.weight * random_.between(0.7, 1);
    for (std::size_t left = 2 + random_.index(3); left > 0; --left) {
        strikes_.push_back({at, force});
        at += std::llround(random_.between(0.0003, 0.0018) * rate_);
        force *= -random_.between(0.2, 0.5);
    }
}

float Relays::next() {
    double force = 0;
    for (Strike& strike : strikes_) {
        if (--strike.left == 0) force += strike.force;
    }
    std::erase_if(strikes_, [](const Strike& strike) { return strike.left <= 0; });
    double sum = 0;
    for (Mode& mode : modes_) sum += mode.next(force);
    return static_cast<float>(level_ * sum);
}

}  // namespace tripline::scene
