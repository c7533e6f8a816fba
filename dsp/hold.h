// Hang time: bridges the gaps between words.
#pragma once

#include <algorithm>

namespace tripline::dsp {

/// True while the gate is open and for the set number of hops after; each opening
/// starts it anew. It does not end in a sound that may yet prove to be a voice, for at most `grace` hops more.
class Hold {
public:
    Hold(long hops, long grace) : hops_(std::max(0L, hops)), grace_(grace) {}

    /// `may_open`: something sounds that would open once it has qualified.
    bool operator()(bool open, bool may_open) noexcept {
        if (open) {
            left_ = hops_ + 1;
            waited_ = 0;
        } else if (left_ == 1 && may_open && waited_ < grace_) {
            ++waited_;
        } else {
            left_ = std::max(0L, left_ - 1);
        }
        return left_ > 0;
    }

    void reset() noexcept { left_ = waited_ = 0; }
    template <typename Visit> void memory(Visit& visit) {
        visit(left_);
        visit(waited_);
    }

private:
    long hops_, grace_;
    long left_ = 0;
    long waited_ = 0;  // of the grace, since the gate was open
};

}  // namespace tripline::dsp
