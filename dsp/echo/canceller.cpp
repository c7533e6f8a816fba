#include "dsp/echo/canceller.h"

#include "dsp/echo/arrival.h"
#include "dsp/one_pole.h"

namespace tripline::dsp::echo {

namespace {

using namespace std::chrono_literals;

constexpr VoiceBandSettings modelled_band{Hertz{100}, Hertz{3400}};
constexpr Power sounding = 1e-6F;        // -60 dBFS: the receiver is not silent
constexpr Power predictable = 1e-8F;     // -80 dBFS: enough predicted to compare with
constexpr std::int64_t look_every = 32;  // blocks, about half a second
constexpr float sure_above = 0.8F;       // of the microphone's power explained
constexpr float unsure_below = 0.6F;
constexpr float turned_up = 16.0F;       // 12 dB: most that a coupling rises between two spells
constexpr float dying = 1 / 64.0F;       // of a loudspeaker gone mute: what the model may be short of
constexpr float room_peaks = 4.0F;       // 6 dB: peaks of a room's noise over its floor
constexpr double trip_seconds = 6;       // of receiver sound: the coupling is learnt anew in it

}  // namespace

Canceller::Canceller(const DetectorSettings& settings, Hertz rate, double hop_seconds)
    : decimator_(rate),
      modelled_band_(modelled_band, decimator_.rate()),
      signal_band_(settings.band, decimator_.rate()),
      prediction_band_(settings.band, decimator_.rate()),
      signals_(settings.envelope, decimator_.rate()),
      predictions_(settings.envelope, decimator_.rate()),
      tail_decay_(decay_per_step(settings.leak.decay, hop_seconds)),
      coupling_(hop_seconds, 1.25F),
      unmodelled_(hop_seconds, 8.0F),
      explained_(hop_seconds),
      trip_fades_(std::lround(trip_seconds / hop_seconds)) {}

void Canceller::model(Pair sample) noexcept {
    const Pair wide = modelled_band_(sample);
    const bool block_ended = paths_.push(wide[0], wide[1]);
    signals_(signal_band_(Pair{wide[0], paths_.residual()}));
    predictions_(prediction_band_(Pair{paths_.prediction(), 0}));
    ++samples_;
    if (block_ended && samples_ / static_cast<std::int64_t>(block) % look_every == 0) look_at_path();
}

void Canceller::look_at_path() noexcept {
    if (receiver_tail_ < sounding) return;
    arrival_ = arrival(paths_.quick());
    clocks_(static_cast<double>(samples_), arrival_);
}

Residue Canceller::end_hop(const Hop& hop) noexcept {
    receiver_tail_ = std::max(hop.receiver, tail_decay_ * receiver_tail_);
    predicted_tail_ = std::max(predictions_.peak()[0], tail_decay_ * predicted_tail_);
    expected_ = hop.expected;
    paths_.expect(hop.coupling);
    const Pair peak = signals_.peak();
    const Pair average = signals_.average();
    const int helps = peak[1] <= peak[0] && !clocks_.differ() ? 1 : 0;  // a bool is no index of a vector: clang takes true for -1
    measure(peak[0], peak[helps], hop);
    return {peak[helps], average[helps], leak(hop.expected, hop.room)};
}

Power Canceller::leak(Power expected, Power room) const noexcept {
    if (sure_) {
        const Power left = unmodelled_.at(predicted_tail_) * predicted_tail_ - room_peaks * room;
        return std::clamp(left, 0.0F, expected);
    }
    if (!tripped_) return expected;
    return std::clamp(coupling_.at(receiver_tail_) * receiver_tail_, expected, turned_up * expected);
}

bool Canceller::may_have_made(Power power) const noexcept { return power < turned_up * expected_; }

bool Canceller::outlasts_receiver() const noexcept {
    const Power still_there = std::max(predictions_.peak()[0], dying * predicted_tail_);
    return signals_.average()[1] > turned_up * still_there;
}

void Canceller::measure(Power microphone, Power residual, const Hop& hop) noexcept {
    if (hop.speaking || receiver_tail_ < sounding) {
        coupling_.interrupt();
        unmodelled_.interrupt();
        return;
    }
    const auto over = [](Power power, Power room) { return std::max(0.0F, power - room); };
    coupling_(over(microphone, room_peaks * hop.room), receiver_tail_);
    if (predicted_tail_ > predictable) unmodelled_(residual, predicted_tail_);
    explained_(over(signals_.average()[0], hop.room), over(signals_.average()[1], hop.room));
    sure_ = unmodelled_.known() && !clocks_.differ() &&
            explained_.share() > (sure_ ? unsure_below : sure_above);
    tripped_ = tripped_ && !sure_ && ++tripped_for_ < trip_fades_;
}

Trust Canceller::trust() const noexcept {
    Trust t;
    t.confidence = explained_.share();
    t.reduction_db = -10 * std::log10(std::max(1 - t.confidence, 1e-6F));
    t.clocks_differ = clocks_.differ();
    t.sure = sure_;
    t.delay_ms = static_cast<float>(1000 * arrival_ / decimator_.rate().value);
    t.drift_ppm = static_cast<float>(clocks_.drift_ppm());
    return t;
}

void Canceller::distrust() noexcept {
    coupling_.reset();
    unmodelled_.reset();
    explained_.reset();
    sure_ = false;
    tripped_ = true;
    tripped_for_ = 0;
}

void Canceller::reset() noexcept {
    decimator_.reset();
    modelled_band_.reset();
    paths_.reset();
    signal_band_.reset();
    prediction_band_.reset();
    signals_.reset();
    predictions_.reset();
    receiver_tail_ = predicted_tail_ = 0;
    distrust();
    tripped_ = false;
    clocks_.reset();
    samples_ = 0;
    arrival_ = 0;
}

}  // namespace tripline::dsp::echo
