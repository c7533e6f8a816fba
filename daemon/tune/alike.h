// Settings that make no difference to what was decided in a hop.
#pragma once

#include "daemon/station/settings.h"
#include "dsp/detector.h"

#include <algorithm>

namespace tripline::tune {

/// What a setting has to do with a hop's decisions, as far as settings may share an engine.
struct Variant {
    Power open = 0;          ///< fixed threshold, or the lowest a floating one goes
    float above_floor = 0;   ///< floating: over the floor; 0: fixed
    float closing = 0;       ///< of the threshold
    float coupling = 0;      ///< the highest
};

Variant variant_of(const dsp::DetectorSettings& settings);
/// The same settings with those left alone that a Variant holds.
station::Settings without_variant(station::Settings settings);

/// The outcome of every comparison in a hop that a threshold takes part in. Each changes once
/// when thresholds rise: what is the same for the lowest and the highest is so for all between.
struct Outcome {
    bool fast_above, fast_near, above, reached, kept, heard, murmur_above, murmur_near, bar_above;
    bool operator==(const Outcome&) const = default;

    static Outcome of(const dsp::Weighed& weighed, Power microphone, Power threshold, Power lowest, float closing) {
        const Power fast = weighed.fast;
        const Power remainder = weighed.remainder;
        const Power murmur = weighed.murmur.power;
        const Power low = std::max(lowest, weighed.murmur.others);
        const dsp::VoiceBar::Weighed& bar = weighed.murmur.bar;
        return {fast > threshold,         fast > dsp::Onset::dip * threshold,   remainder > threshold,
                remainder >= threshold, remainder >= closing * threshold, microphone > threshold,
                murmur > low,             murmur > dsp::Murmur::quarter * low,
                bar.peak > std::max(lowest, bar.others)};
    }
};

/// The extremes of some settings.
class Alike {
public:
    void add(const Variant& v) {
        low_ = {std::min(low_.open, v.open), std::min(low_.above_floor, v.above_floor), std::min(low_.closing, v.closing),
                std::min(low_.coupling, v.coupling)};
        high_ = {std::max(high_.open, v.open), std::max(high_.above_floor, v.above_floor),
                 std::max(high_.closing, v.closing), std::max(high_.coupling, v.coupling)};
    }
    /// Whether all of them would have done in this hop what the one with the highest coupling
    /// did, if all were alike before it.
    bool hold(const dsp::Weighed& weighed, const dsp::Heard& heard) const {
        // A learnt coupling is the same for all whose limit it does not reach.
        const bool coupled = low_.coupling == high_.coupling ||
                             (weighed.coupling <= low_.coupling && weighed.murmur.coupling <= low_.coupling && heard.cause != dsp::Cause::not_finite);
        if (!coupled) return false;
        const Power least = threshold(low_, weighed, heard.measures.floor);
        const Power most = threshold(high_, weighed, heard.measures.floor);
        if (least == most && low_.closing == high_.closing && low_.open == high_.open) return true;
        const Power microphone = heard.measures.microphone;
        return Outcome::of(weighed, microphone, least, low_.open, low_.closing) ==
               Outcome::of(weighed, microphone, most, high_.open, high_.closing);
    }

private:
    static Power threshold(const Variant& v, const dsp::Weighed& weighed, Power floor) {
        return v.above_floor > 0 ? std::max({v.open, v.above_floor * floor, weighed.others}) : v.open;
    }

    Variant low_{1e30F, 1e30F, 1e30F, 1e30F};
    Variant high_{};
};

}  // namespace tripline::tune
