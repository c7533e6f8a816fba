#include "dsp/echo/two_paths.h"

#include <algorithm>
#include <numeric>

namespace tripline::dsp::echo {

namespace {

constexpr float steady_forgetting = 2e-5F;
constexpr float quick_forgetting = 1e-2F;
constexpr float memory = 0.8F;          // of the compared powers, per block of 16 ms
constexpr float clearly_better = 0.7F;  // 1.5 dB
constexpr float useful = 0.8F;          // the takeover must also help against no model at all
constexpr int blocks_to_take_over = 6;
constexpr int blocks_to_fall_back = 18;
constexpr float harm = 1.15F;           // the prediction makes things worse
constexpr int blocks_to_restart = 12;
constexpr int blocks_to_restart_at_once = 4;
constexpr float silence = 1e-6F;

float energy(std::span<const float, block> x) {
    return std::inner_product(x.begin(), x.end(), x.begin(), 0.0F);
}

void follow(float& smoothed, float now) { smoothed = memory * smoothed + (1 - memory) * now; }

void count(int& blocks, bool holds) { blocks = holds ? blocks + 1 : 0; }

}  // namespace

TwoPaths::TwoPaths()
    : receiver_(fft_), steady_(fft_, steady_forgetting, 0), quick_(fft_, quick_forgetting, 2) {}

bool TwoPaths::push(float microphone, float receiver) noexcept {
    const bool full = receiver_.push(receiver);
    prediction_ = steady_.predict(receiver_.recent(), at_);
    residual_ = microphone - prediction_;
    steady_errors_[at_] = residual_;
    quick_errors_[at_] = microphone - quick_.predict(receiver_.recent(), at_);
    microphone_energy_ += microphone * microphone;
    prediction_energy_ += prediction_ * prediction_;
    ++at_;
    if (full) end_block();
    return full;
}

void TwoPaths::end_block() noexcept {
    steady_.learn(receiver_, steady_errors_);
    quick_.learn(receiver_, quick_errors_);
    compare();
    at_ = 0;
    microphone_energy_ = prediction_energy_ = 0;
}

void TwoPaths::compare() noexcept {
    if (prediction_energy_ < 0.05F * microphone_energy_) return;  // nothing to tell them apart
    follow(microphone_power_, microphone_energy_);
    follow(steady_power_, energy(steady_errors_));
    follow(quick_power_, energy(quick_errors_));

    count(quick_better_, quick_power_ < clearly_better * steady_power_ &&
                             quick_power_ < useful * microphone_power_);
    count(steady_better_, steady_power_ < 0.5F * quick_power_);
    count(harmful_, steady_power_ > harm * microphone_power_ + silence);
    count(very_harmful_, steady_power_ > 2 * microphone_power_ + silence);

    if (quick_better_ >= blocks_to_take_over) {
        steady_.copy(quick_);
        steady_power_ = quick_power_;
        quick_better_ = 0;
        ++takeovers_;
    }
    if (steady_better_ >= blocks_to_fall_back) {
        quick_.copy(steady_);
        quick_power_ = steady_power_;
        steady_better_ = 0;
    }
    if (harmful_ >= blocks_to_restart || very_harmful_ >= blocks_to_restart_at_once) {
        steady_.reset(coupling_);
        quick_.reset(coupling_);
        steady_power_ = quick_power_ = microphone_power_;
        harmful_ = very_harmful_ = 0;
        ++restarts_;
    }
}

void TwoPaths::reset() noexcept {
    receiver_.reset();
    steady_.reset();
    quick_.reset();
    at_ = 0;
    coupling_ = 1;
    residual_ = prediction_ = 0;
    microphone_energy_ = prediction_energy_ = microphone_power_ = steady_power_ = quick_power_ = 0;
    quick_better_ = steady_better_ = harmful_ = very_harmful_ = 0;
}

}  // namespace tripline::dsp::echo
