#include "daemon/inspect/crackle_counter.h"

#include <algorithm>
#include <cmath>

namespace tripline::inspect {
namespace {

constexpr double part_s = 0.5e-3;
constexpr double outstanding = 1000;     // 30 dB over the mean of the surroundings
constexpr float lowest_step = 1e-5F;     // squared: -50 dBFS; a step below is no trouble
constexpr std::size_t own = 1;           // neighbours that belong to a step
constexpr int deaf_parts = 10;

}  // namespace

CrackleCounter::CrackleCounter(Hertz rate) : part_length_(std::max(1L, std::lround(rate.value * part_s))) {}

void CrackleCounter::push(float sample) noexcept {
    const float bend = sample - 2 * last_ + before_;
    before_ = last_;
    last_ = sample;
    now_.highest = std::max(now_.highest, bend * bend);
    now_.energy += static_cast<double>(bend) * bend;
    if (++in_part_ == part_length_) end_part();
}

void CrackleCounter::end_part() noexcept {
    parts_[oldest_] = now_;
    oldest_ = (oldest_ + 1) % part_count;
    filled_ = std::min(filled_ + 1, part_count);
    now_ = {};
    in_part_ = 0;
    if (deaf_ > 0) --deaf_;
    if (filled_ < part_count || deaf_ > 0 || !stands_out(part_count / 2)) return;
    ++crackles_;
    deaf_ = deaf_parts;
}

bool CrackleCounter::stands_out(std::size_t middle) const noexcept {
    const float highest = part(middle).highest;
    if (highest < lowest_step) return false;
    double around = 0;
    for (std::size_t i = 0; i < part_count; ++i) {
        if (i + own < middle || i > middle + own) around += part(i).energy;
    }
    const auto samples = static_cast<double>(part_length_) * static_cast<double>(part_count - 2 * own - 1);
    return highest * samples > outstanding * around;
}

}  // namespace tripline::inspect
