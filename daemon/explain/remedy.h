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
    std::string choice{};   ///< of a key that is no number: the one value that is tried
};

/// The loudspeaker's sound is subtracted by its power.
bool by_envelope(const dsp::LeakSettings& leak);
/// The echo method is not in force and could be: it needs both inputs on one clock.
bool may_use_echo(const config::Settings& settings);
Knob echo_method();

/// What one setting alone would have done, found by replaying with it.
struct Remedy {
    const config::Key* key = nullptr;
    double before = 0;
    double after = 0;                 ///< the nearest value seen to make the difference, or the end of the range
    std::string choice{};             ///< instead of both, of a key that is no number
    bool helps = false;               ///< false: not even the end of the range does
    bool tried = true;                ///< false: what the station remembered is another method's
    std::size_t transmissions = 0;    ///< with it, in the part that was replayed
};

/// Whether the transmissions are what was wished for.
using Wish = std::function<bool(const std::vector<replay::Spell>&)>;

/// Tries the knobs one by one, each alone and several at a time, on the recording up to
/// `until`; between the present value and the end of its range the nearest one that helps is
/// sought by halving, to 0.5 dB or 1 ms; of a choice the one value is tried. A value that no station takes does not help.
/// Throws as replay::play() does.
std::vector<Remedy> remedies(const Subject& subject, const std::vector<Knob>& knobs, Duration until, const Wish& wish);

/// One line each, indented. `transmissions` is how many there are as things stand.
std::string in_words(const Remedy& remedy, std::size_t transmissions);

}  // namespace tripline::explain
