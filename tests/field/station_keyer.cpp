#include "tests/field/station_keyer.h"

#include "daemon/station/settings.h"

namespace tripline::field {
namespace {

const station::Settings defaults;

}  // namespace

StationKeyer::StationKeyer(std::unique_ptr<Listener> listener, Hertz rate)
    : listener_(std::move(listener)), rate_(rate) {}

void StationKeyer::push(const scene::Sample& sample) {
    const bool voice = listener_->hear(sample) && now_ >= deaf_until_;
    now_ += Frames{1};
    if (voice) last_voice_ = now_;
    if (voice && !on_air_) begin();
    if (on_air_ && now_ - last_voice_ > to_frames(defaults.detector.hold, rate_)) end();
}

void StationKeyer::begin() {
    on_air_ = true;
    const Duration now = to_duration(now_, rate_);
    spells_.push_back({now, now + timing().relay - timing().transmitter, now, station::Reason::none});
}

void StationKeyer::end() {
    on_air_ = false;
    spells_.back().released = to_duration(now_, rate_);
    deaf_until_ = now_ + to_frames(defaults.detector.blanking.unmute, rate_);
}

std::vector<replay::Spell> StationKeyer::finish() {
    if (on_air_) end();
    return spells_;
}

replay::Timing StationKeyer::timing() const { return replay::timing_of(defaults); }

}  // namespace tripline::field
