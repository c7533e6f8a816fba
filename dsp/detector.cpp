#include "dsp/detector.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tripline::dsp {

namespace {

constexpr double hop_target = 0.5e-3;

Hertz checked(Hertz rate) {
    if (!(rate.value >= 8000 && rate.value <= 192000))
        throw std::invalid_argument("the detector works at rates from 8000 to 192000 Hz");
    return rate;
}

long in_hops(Duration duration, double hop_seconds) {
    return std::lround(std::chrono::duration<double>(duration).count() / hop_seconds);
}

}  // namespace

Detector::Detector(const DetectorSettings& settings, Hertz rate)
    : gate_settings_(settings.gate),
      lowest_threshold_(to_power(settings.gate.open)),
      above_floor_(static_cast<float>(to_ratio(settings.gate.above_floor))),
      muted_on_air_(settings.leak.muted_on_air),
      hop_(std::max<std::int64_t>(1, std::llround(checked(rate).value * hop_target))),
      hop_seconds_(static_cast<double>(hop_) / rate.value),
      band_(settings.band, rate),
      envelope_(settings.envelope, rate),
      leak_(settings.leak, hop_seconds_),
      floor_(hop_seconds_),
      gate_(settings.gate, hop_seconds_),
      blanking_(settings.blanking, hop_seconds_),
      hold_(in_hops(settings.hold, hop_seconds_)) {}

void Detector::receiver_muted(bool muted) noexcept {
    if (muted_ && !muted) blanking_.receiver_unmuted();
    muted_ = muted;
}

void Detector::reset() noexcept {
    band_.reset();
    envelope_.reset();
    leak_.reset();
    floor_.reset();
    gate_.reset();
    blanking_.reset();
    hold_.reset();
    heard_ = {};
}

void Detector::end_hop() noexcept {
    const Pair average = envelope_.average();
    if (!std::isfinite(average[0]) || !std::isfinite(average[1])) {
        reset();
        heard_.cause = Cause::not_finite;
        return;
    }
    judge();
}

Power Detector::threshold() const noexcept {
    if (gate_settings_.threshold == Threshold::fixed) return lowest_threshold_;
    return std::max(lowest_threshold_, above_floor_ * heard_.measures.floor);
}

void Detector::judge() noexcept {
    const Pair power = envelope_.peak();
    const bool loudspeaker_silent = muted_ && muted_on_air_;
    Measures& m = heard_.measures;
    m.microphone = power[0];
    m.receiver = power[1];
    m.leak = leak_(loudspeaker_silent ? 0.0F : power[1]);
    m.floor = floor_(envelope_.average()[0], m.leak);
    m.threshold = threshold();

    const Power remainder = std::max(0.0F, m.microphone - m.leak);
    m.margin_db = static_cast<float>(to_dbfs(remainder).value - to_dbfs(m.threshold).value);

    const bool blanked = blanking_() && !heard_.voice;
    if (blanked) gate_.reset();
    heard_.voice = !blanked && gate_(remainder, m.threshold);
    heard_.held = hold_(heard_.voice);

    if (blanked) heard_.cause = Cause::blanked;
    else if (heard_.voice) heard_.cause = Cause::voice;
    else if (gate_.qualifying()) heard_.cause = Cause::qualifying;
    else if (m.microphone > m.threshold && remainder <= m.threshold) heard_.cause = Cause::masked;
    else heard_.cause = Cause::quiet;
}

}  // namespace tripline::dsp
