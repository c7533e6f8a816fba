// The station's own relays, as the microphone hears them.
#pragma once

#include "tests/scene/random.h"
#include "tests/scene/source.h"

#include <array>
#include <vector>

namespace tripline::scene {

/// Three relays on one chassis, each with its own time from coil to contact. The armature strikes,
/// bounces two or three times within 5 ms, and rings modes of the chassis of 80 Hz to 5 kHz, which decay by
/// 1/e in 6 to 20 ms. No two strikes are alike. Figures of common practice, no source.
class Relays final : public Source {
public:
    static constexpr std::size_t count = 3;

    /// `peak`: what the highest sample of a loud strike comes near to.
    Relays(Dbfs peak, std::uint64_t seed, Hertz rate);

    /// The coil of one of them is switched. Throws std::out_of_range.
    void move(std::size_t relay);
    float next() override;

private:
    /// A damped sine, struck again and again: y[n] = b1 y[n-1] + b2 y[n-2] + x[n].
    struct Mode {
        double b1, b2, gain;
        double last = 0, before = 0;
        double next(double strike);
    };
    struct Armature {
        std::int64_t travel;   ///< frames from coil to contact
        double weight;         ///< of its strike
    };
    struct Strike {
        std::int64_t left;     ///< frames until it lands
        double force;
    };

    Random random_;
    double rate_;
    double level_;
    std::vector<Mode> modes_;
    std::array<Armature, count> armatures_{};
    std::vector<Strike> strikes_;
};

}  // namespace tripline::scene
