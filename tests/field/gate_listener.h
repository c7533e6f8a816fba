// A gate on the power in the voice band, alone or with the receiver's share subtracted.
#pragma once

#include "tests/field/references.h"
#include "tests/scene/filter.h"

namespace tripline::field {

/// 300-3000 Hz, attack 2 ms, release 20 ms, 4 dB hysteresis, 8 ms qualifying time.
class GateListener final : public Listener {
public:
    /// `coupling` in power; 0: the receiver is not listened to.
    GateListener(Dbfs open, double coupling, Hertz rate);
    bool hear(const scene::Sample& sample) override;

private:
    /// Power with a quick rise and a slow fall.
    struct Follower {
        double rise, fall;
        double power = 0;
        double operator()(double in) {
            power += (in > power ? rise : fall) * (in - power);
            return power;
        }
    };
    scene::BandPass microphone_band_;
    scene::BandPass receiver_band_;
    Follower microphone_;
    Follower receiver_;
    double coupling_;
    double open_;
    double close_;
    std::int64_t qualify_;
    std::int64_t above_ = 0;
    bool is_open_ = false;
};

}  // namespace tripline::field
