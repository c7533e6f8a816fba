// Which setting would have made a difference, and by how much.
#pragma once

#include "config/key.h"
#include "daemon/explain/account.h"
#include "daemon/replay/spell.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tripline::explain {

/// A setting that may be turned, and the way to turn it.
struct Knob {
    std::string key;
    bool up = true;
};

/// What one setting alone would have done, found by replaying with it.
struct Remedy {
    const config::Key* key = nullptr;
    double before = 0;
    double after = 0;                 ///< the nearest value seen to make the difference, or the end of the range
    bool helps = false;               ///< false: not even the end of the range does
    std::size_t transmissions = 0;    ///< with it, in the part that was replayed
};

/// Whether the transmissions are what was wished for.
using Wish = std::function<bool(const std::vector<replay::Spell>&)>;

/// Tries the knobs one by one, each alone and several at a time, on the recording up to
/// `until`; between the present value and the end of its range the nearest one that helps is
/// sought by halving, to 0.5 dB or 1 ms. A value that no station takes does not help.
/// Throws as replay::play() does.
std::vector<Remedy> remedies(const Subject& subject, const std::vector<Knob>& knobs, Duration until, const Wish& wish);

/// One line each, indented. `transmissions` is how many there are as things stand.
std::string in_words(const Remedy& remedy, std::size_t transmissions);

}  // namespace tripline::explain
