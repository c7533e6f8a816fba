#include "dsp/ear.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tripline::dsp {

namespace {

constexpr double hop_target = 1e-3;
constexpr std::array<float, Ear::most> silence{};

Hertz checked(Hertz rate) {
    if (!(rate.value >= 8000 && rate.value <= 192000))
        throw std::invalid_argument("the detector works at rates from 8000 to 192000 Hz");
    return rate;
}

}  // namespace

Frames Ear::hop_at(Hertz rate) {
    return {std::max(1LL, std::llround(checked(rate).value * hop_target))};
}

Ear::Ear(const DetectorSettings& settings, Hertz rate, Hertz pitch_rate)
    : Ear(settings, rate, pitch_rate, static_cast<double>(hop_at(rate).count) / rate.value) {}

Ear::Ear(const DetectorSettings& settings, Hertz rate, Hertz pitch_rate, double hop_seconds)
    : hop_(static_cast<std::size_t>(hop_at(rate).count)),
      band_(settings.band, rate),
      envelope_(settings.envelope, rate),
      voicing_(pitch_rate),
      means_{MovingAverage(settings.evidence.hum_50.window, hop_seconds),
             MovingAverage(settings.evidence.hum_60.window, hop_seconds),
             MovingAverage(settings.evidence.drone.window, hop_seconds)},
      balance_(hop_seconds),
      low_balance_(hop_seconds) {}

void Ear::filter(std::span<const float> microphone, std::span<const float> receiver) noexcept {
    frames_ = microphone.size();
    const std::span<const float> other = receiver.size() < frames_ ? std::span(silence).first(frames_) : receiver;
    Envelope envelope = envelope_;  // in registers
    band_(microphone, other, std::span(flat_).first(frames_), [&](std::size_t i, Pair passed) {
        peaks_[i] = envelope(passed);
        averages_[i] = envelope.average();
    });
    envelope_ = envelope;
}

void Ear::end_hop(const Voicing::Moment& low, Sounds& sounds) noexcept {
    sounds.low = low.power;
    sounds.place = low.place;
    for (std::size_t i = 0; i < means_.size(); ++i) sounds.means[i] = means_[i](0.5F * (middle_ + sounds.average[0]));
    sounds.balance = balance_(sounds.average);
    sounds.low_balance = low_balance_(sounds.low);
}

/// Of the hop that has begun.
void Ear::pass_middle() noexcept {
    const std::size_t half = hop_ / 2;
    if (frame_ >= half && frames_ + half > frame_) middle_ = averages_[frames_ + half - frame_ - 1][0];
}

void Ear::reset() noexcept {
    band_.reset();
    envelope_.reset();
    voicing_.reset();
    for (MovingAverage& average : means_) average.reset();
    balance_.reset();
    low_balance_.reset();
    middle_ = 0;
}

}  // namespace tripline::dsp
