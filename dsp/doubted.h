// Knows how loud those sounds of a kind are that keyed and were no speech.
#pragma once

#include "dsp/doubts.h"
#include "dsp/units.h"

#include <algorithm>

namespace tripline::dsp {

/// What is no louder than a mistake is believed as Doubts has it; what is louder always.
class Doubted {
public:
    bool believes(Power peak) const noexcept { return peak > level_ || doubts_.believed(); }

    /// A spell has begun; `begun_so`: with such a sound, of this peak. No mistake lifts what is doubted over `most`.
    void keyed(bool begun_so, Power peak, Power most) noexcept {
        begun_so_ = begun_so;
        doubtful_ = begun_so && peak <= level_;
        peak_ = std::min(peak, most);
    }
    /// It was no speech.
    void mistaken() noexcept {
        if (!begun_so_) return;
        doubts_.mistaken();
        level_ = std::max(level_, alike * peak_);
    }
    /// It has ended, and was the operator's.
    void operator_spoke() noexcept {
        doubts_.operator_spoke(doubtful_);
        if (doubts_.none()) level_ = 0;
    }

    void reset() noexcept {
        doubts_.reset();
        level_ = peak_ = 0;
        begun_so_ = doubtful_ = false;
    }
    /// What holds beyond the moment.
    template <typename Visit> void memory_of_learning(Visit& visit) {
        doubts_.memory(visit);
        visit(level_);
    }
    template <typename Visit> void memory_of_moment(Visit& visit) {
        visit(peak_);
        visit(begun_so_);
        visit(doubtful_);
    }

private:
    static constexpr Power alike = 1.25F;  // 1 dB: the same chair

    Doubts doubts_;
    Power level_ = 0;         // what is no louder is doubted
    Power peak_ = 0;          // at the beginning of the last spell
    bool begun_so_ = false;   // it began with such a sound
    bool doubtful_ = false;   // of those that are doubted
};

}  // namespace tripline::dsp
