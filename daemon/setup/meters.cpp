#include "daemon/setup/meters.h"

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;

constexpr Duration settling_time = 100ms;

}  // namespace

BandPower::BandPower(const dsp::VoiceBandSettings& band, Hertz rate)
    : band_(band, rate), settling_(to_frames(settling_time, rate).count) {}

void BandPower::push(float microphone, float receiver) {
    const dsp::Pair heard = band_(dsp::Pair{microphone, receiver});
    if (settling_ > 0) {
        --settling_;
        return;
    }
    ++counted_;
    for (std::size_t channel = 0; channel < energy_.size(); ++channel) {
        energy_[channel] += 2.0 * static_cast<double>(heard[channel]) * static_cast<double>(heard[channel]);
    }
}

Dbfs BandPower::level(std::size_t channel) const {
    return counted_ == 0 ? Dbfs{-200} : to_dbfs(static_cast<Power>(energy_[channel] / static_cast<double>(counted_)));
}

}  // namespace tripline::setup
