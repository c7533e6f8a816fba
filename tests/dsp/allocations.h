// Counts what this program takes from the heap.
#pragma once

namespace tripline::dsp {

/// Calls of operator new on this thread so far.
long allocations() noexcept;

}  // namespace tripline::dsp
