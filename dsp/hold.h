// Hang time: bridges the gaps between words.
#pragma once

#include <algorithm>

namespace tripline::dsp {

/// True while the gate is open and for the set number of hops after; each opening
/// starts it anew.
class Hold {
public:
    explicit Hold(long hops) : hops_(std::max(0L, hops)) {}

    bool operator()(bool open) noexcept {
        left_ = open ? hops_ + 1 : std::max(0L, left_ - 1);
        return left_ > 0;
    }

    void reset() noexcept { left_ = 0; }
    template <typename Visit> void memory(Visit& visit) { visit(left_); }

private:
    long hops_;
    long left_ = 0;
};

}  // namespace tripline::dsp
