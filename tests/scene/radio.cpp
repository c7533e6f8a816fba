#include "tests/scene/radio.h"

namespace tripline::scene {
namespace {

using std::chrono_literals::operator""ms;

constexpr Hertz low{300};
constexpr Hertz high{2700};
constexpr double fade_time_s = 3;
constexpr int fade_step = 16;   ///< frames between moves of the slow fading
constexpr double crash_decay_s = 0.04;

/// Gain that brings white noise of variance 1, once through the band, to a level.
float noise_amplitude(Dbfs level, Hertz rate) {
    const double share = (high.value - low.value) / (rate.value / 2);
    return static_cast<float>(to_amplitude(Decibels{level.value}) / std::sqrt(2 * share));
}

double frames(Duration duration, Hertz rate) { return static_cast<double>(to_frames(duration, rate).count); }

}  // namespace

Radio::Spells::Spells(Duration mean_off, Duration mean_on, Hertz rate)
    : mean_off_(frames(mean_off, rate)), mean_on_(frames(mean_on, rate)), left_(mean_off_) {}

bool Radio::Spells::next(Random& random) {
    begun_ = false;
    if (--left_ <= 0) {
        on_ = !on_;
        begun_ = on_;
        left_ = random.exponential(on_ ? mean_on_ : mean_off_);
    }
    return on_;
}

Radio::Radio(const RadioSettings& settings, Dbfs voice, std::uint64_t seed, Hertz rate)
    : settings_(settings),
      random_(seed),
      rate_(rate),
      band_(low, high, rate),
      amplitude_(noise_amplitude(voice, rate)),
      drop_(20s, 1500ms, rate),
      whistle_(15s, 4s, rate),
      crash_(2s, 100ms, rate),
      fade_keep_(std::exp(-fade_step / (fade_time_s * rate.value))),
      crash_keep_(std::exp(-1 / (crash_decay_s * rate.value))) {}

/// Magnitude of a complex Gaussian with an exponential memory, with a steady part of the
/// same power: fades, but seldom to nothing.
void Radio::move_fade() {
    const double push = std::sqrt((1 - fade_keep_ * fade_keep_) / 2);
    fade_i_ = fade_keep_ * fade_i_ + push * random_.normal();
    fade_q_ = fade_keep_ * fade_q_ + push * random_.normal();
    fade_now_ = static_cast<float>(std::hypot(fade_i_ + 1, fade_q_) / std::numbers::sqrt2);
}

float Radio::fade() {
    if (--until_fade_ <= 0) {
        until_fade_ = fade_step;
        move_fade();
    }
    return fade_now_;
}

float Radio::disturb() {
    double sum = 0;
    if (settings_.heterodyne && whistle_.next(random_)) {
        if (whistle_.just_began()) {
            whistle_step_ = 2 * std::numbers::pi * random_.between(600, 2000) / rate_.value;
        }
        whistle_phase_ = std::fmod(whistle_phase_ + whistle_step_, 2 * std::numbers::pi);
        const double share = (high.value - low.value) / (rate_.value / 2);
        sum += to_amplitude(Decibels{-15}) * std::sqrt(2 * share) * std::sin(whistle_phase_);
    }
    if (settings_.static_crashes) {
        crash_power_ = crash_.next(random_) ? to_amplitude(Decibels{6}) : crash_power_ * crash_keep_;
        sum += crash_power_ * random_.normal();
    }
    return static_cast<float>(sum);
}

float Radio::operator()(float voice) {
    const bool dropped = settings_.drops && drop_.next(random_);
    const double noise = dropped ? 1.0 : to_amplitude(settings_.open_band);
    const float heard = dropped ? 0.0F : settings_.fading ? fade() * voice : voice;
    const double rest = noise * random_.normal() + static_cast<double>(disturb());
    return static_cast<float>(band_(heard + amplitude_ * rest));
}

}  // namespace tripline::scene
