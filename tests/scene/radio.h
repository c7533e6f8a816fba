// What a radio does to the far station's voice.
#pragma once

#include "tests/scene/filter.h"
#include "tests/scene/random.h"

namespace tripline::scene {

using std::chrono_literals::operator""s;

/// Levels are relative to the far voice's active level.
struct RadioSettings {
    Decibels open_band{-10};   ///< the receiver's noise, steady
    bool fading = false;       ///< slow Rayleigh-like fading of the voice, 10 s about
    bool drops = false;        ///< the carrier drops now and then: a roar as loud as the voice
    bool heterodyne = false;   ///< a whistle 15 dB down, for seconds at a time
    bool static_crashes = false;  ///< bursts of noise 6 dB up, up to 0.2 s
};

/// One sample of the far voice in, one of the receiver's audio out: 300-2700 Hz.
class Radio {
public:
    /// `voice` is the far voice's active level.
    Radio(const RadioSettings& settings, Dbfs voice, std::uint64_t seed, Hertz rate);
    float operator()(float voice);

private:
    /// On and off for exponential times.
    class Spells {
    public:
        Spells(Duration mean_off, Duration mean_on, Hertz rate);
        bool next(Random& random);
        bool just_began() const { return on_ && begun_; }

    private:
        double mean_off_, mean_on_;   // frames
        bool on_ = false;
        bool begun_ = false;
        double left_ = 0;
    };
    float fade();
    void move_fade();
    float disturb();

    RadioSettings settings_;
    Random random_;
    Hertz rate_;
    BandPass band_;
    float amplitude_;    ///< of noise of variance 1 that is as loud as the voice after the band
    Spells drop_;
    Spells whistle_;
    Spells crash_;
    double fade_keep_;
    double fade_i_ = 1;
    double fade_q_ = 0;
    int until_fade_ = 0;      ///< frames
    float fade_now_ = 1;
    double whistle_phase_ = 0;
    double whistle_step_ = 0;
    double crash_power_ = 0;
    double crash_keep_;
};

}  // namespace tripline::scene
