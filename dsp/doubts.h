// Counts how often a kind of sound keyed and was no speech.
#pragma once

#include <algorithm>

namespace tripline::dsp {

/// What keyed and was no speech is not believed until the operator has spoken, and after each further mistake not until
/// he has done so twice as often, up to 15 times.
class Doubts {
public:
    void mistaken() noexcept { owed_ = doubts_ = std::min(2 * doubts_ + 1, most); }
    /// A spell that has ended was his; `begun_so`: it began with such a sound.
    void operator_spoke(bool begun_so) noexcept {
        owed_ = std::max(0L, owed_ - 1);
        if (begun_so) doubts_ /= 2;
    }
    bool believed() const noexcept { return owed_ == 0; }
    /// Whether no mistake is remembered.
    bool none() const noexcept { return doubts_ == 0; }

    void reset() noexcept { doubts_ = owed_ = 0; }
    template <typename Visit> void memory(Visit& visit) {
        visit(doubts_, most + 1);
        visit(owed_, most + 1);
    }

private:
    static constexpr long most = 15;

    long doubts_ = 0;  // from mistakes
    long owed_ = 0;    // overs of his until such a sound is believed
};

}  // namespace tripline::dsp
