// Replays the recordings of a suite, several at a time.
#pragma once

#include "daemon/prove/item.h"
#include "daemon/prove/verdict.h"

#include <functional>

namespace tripline::prove {

/// One verdict an item, in their order. What goes wrong with a recording is in its verdict.
/// Memory does not grow with the length of the recordings. `done` gets the share of
/// recordings done, from any thread but one at a time; it may be empty.
Verdicts run(const std::vector<Item>& items, unsigned workers, const std::function<void(double)>& done);

}  // namespace tripline::prove
