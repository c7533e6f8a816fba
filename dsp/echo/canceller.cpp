#include "dsp/echo/canceller.h"

#include "dsp/echo/arrival.h"
#include "dsp/one_pole.h"

namespace tripline::dsp::echo {

namespace {

using namespace std::chrono_literals;

constexpr Power sounding = 1e-6F;        // -60 dBFS: the receiver is not silent
constexpr Power predictable = 1e-8F;     // -80 dBFS: enough predicted to compare with
constexpr std::int64_t look_every = 32;  // blocks, about half a second
constexpr float explained_enough = 0.5F;

}  // namespace

Canceller::Canceller(const DetectorSettings& settings, Hertz rate, double hop_seconds)
    : decimator_(rate),
      signals_(settings.envelope, decimator_.rate()),
      predictions_(settings.envelope, decimator_.rate()),
      tail_decay_(decay_per_step(settings.leak.decay, hop_seconds)),
      explained_decay_(decay_per_step(1s, hop_seconds)),
      coupling_(hop_seconds),
      unmodelled_(hop_seconds) {}

void Canceller::model(Pair sample) noexcept {
    const bool block_ended = paths_.push(sample[0], sample[1]);
    signals_(Pair{sample[0], paths_.residual()});
    predictions_(Pair{paths_.prediction(), 0});
    ++samples_;
    if (block_ended && samples_ / static_cast<std::int64_t>(block) % look_every == 0) look_at_path();
}

void Canceller::look_at_path() noexcept {
    if (receiver_tail_ < sounding) return;
    arrival_ = arrival(paths_.quick());
    clocks_(static_cast<double>(samples_), arrival_);
}

Residue Canceller::end_hop(Power receiver, bool speaking) noexcept {
    receiver_tail_ = std::max(receiver, tail_decay_ * receiver_tail_);
    predicted_tail_ = std::max(predictions_.peak()[0], tail_decay_ * predicted_tail_);
    const Pair peak = signals_.peak();
    const Pair average = signals_.average();
    const bool helps = peak[1] <= peak[0] && !clocks_.differ();
    const Residue left{peak[helps], average[helps], 0};
    measure(peak[0], left.power, speaking);

    const Power by_envelope = coupling_.at(receiver_tail_) * receiver_tail_;
    if (!modelled()) return {left.power, left.average, by_envelope};
    return {left.power, left.average,
            std::min(by_envelope, unmodelled_.at(predicted_tail_) * predicted_tail_)};
}

void Canceller::measure(Power microphone, Power residual, bool speaking) noexcept {
    if (speaking || receiver_tail_ < sounding) {
        coupling_.interrupt();
        unmodelled_.interrupt();
        return;
    }
    coupling_(microphone, receiver_tail_);
    if (predicted_tail_ > predictable) unmodelled_(residual, predicted_tail_);
    microphone_sum_ = explained_decay_ * microphone_sum_ + static_cast<double>(signals_.average()[0]);
    residual_sum_ = explained_decay_ * residual_sum_ + static_cast<double>(signals_.average()[1]);
}

Trust Canceller::trust() const noexcept {
    Trust t;
    const double left = microphone_sum_ > 0 ? residual_sum_ / microphone_sum_ : 1;
    t.confidence = static_cast<float>(std::clamp(1 - left, 0.0, 1.0));
    t.reduction_db = static_cast<float>(-10 * std::log10(std::max(left, 1e-10)));
    t.clocks_differ = clocks_.differ();
    t.sure = modelled() && t.confidence >= explained_enough;
    t.delay_ms = static_cast<float>(1000 * arrival_ / decimator_.rate().value);
    t.drift_ppm = static_cast<float>(clocks_.drift_ppm());
    return t;
}

void Canceller::reset() noexcept {
    decimator_.reset();
    paths_.reset();
    signals_.reset();
    predictions_.reset();
    receiver_tail_ = predicted_tail_ = 0;
    coupling_.reset();
    unmodelled_.reset();
    microphone_sum_ = residual_sum_ = 0;
    clocks_.reset();
    samples_ = 0;
    arrival_ = 0;
}

}  // namespace tripline::dsp::echo
