#include "tests/field/gate_listener.h"

namespace tripline::field {
namespace {

using std::chrono_literals::operator""ms;

double share(double seconds, Hertz rate) { return 1 - std::exp(-1 / (seconds * rate.value)); }

}  // namespace

GateListener::GateListener(Dbfs open, double coupling, Hertz rate)
    : microphone_band_(Hertz{300}, Hertz{3000}, rate),
      receiver_band_(Hertz{300}, Hertz{3000}, rate),
      microphone_{share(0.002, rate), share(0.020, rate)},
      receiver_{share(0.002, rate), share(0.120, rate)},
      coupling_(coupling),
      open_(to_power(open)),
      close_(open_ * to_ratio(Decibels{-4})),
      qualify_(to_frames(8ms, rate).count) {}

bool GateListener::hear(const scene::Sample& sample) {
    const double m = microphone_band_(sample.microphone);
    const double r = receiver_band_(sample.receiver);
    const double left = microphone_(2 * m * m) - coupling_ * receiver_(2 * r * r);
    above_ = left > open_ ? above_ + 1 : 0;
    is_open_ = is_open_ ? left > close_ : above_ >= qualify_;
    return is_open_;
}

std::unique_ptr<Listener> make_gate(const Adjustment& a, Dbfs voice, Hertz rate) {
    return std::make_unique<GateListener>(Dbfs{voice.value + a.open_db}, 0, rate);
}

std::unique_ptr<Listener> make_subtraction(const Adjustment& a, Dbfs voice, Hertz rate) {
    const double coupling = to_ratio(Decibels{a.coupling_db});
    return std::make_unique<GateListener>(Dbfs{voice.value + a.open_db}, coupling, rate);
}

}  // namespace tripline::field
