// How far two settings may go before the last minutes would have been keyed otherwise.
#pragma once

#include "daemon/black_box/black_box.h"
#include "daemon/logbook/over.h"
#include "daemon/replay/span.h"

#include <functional>
#include <string>
#include <vector>

namespace tripline::study {

/// What every setting has to catch, and nothing else: the operator's speech as the station keyed
/// it in the sound kept, its hold left out, but for overs that were marked as false. An over that goes
/// on at the end is right so far. `overs`: the last ones, oldest first; the last is that of the last
/// spell that has ended. Counted from the beginning of the sound.
replay::Spans right_speech(const black_box::KeptSound& kept, const std::vector<logbook::Over>& overs);

/// Opening level against anti-trip coupling, each some steps around what is in force, replayed on
/// the sound kept. The answer is a JSON object:
///   text      the map and the choice, for people
///   picture   the same as an SVG document
///   changes   towards the most robust pair, as key, from and to; none when nothing is to be changed
///   overs     how many were taken as right
/// `progress` may throw, to end it. Throws Refusal when nothing was keyed, and what replaying throws.
std::string margins(const black_box::KeptSound& kept, const std::vector<logbook::Over>& overs,
                    const std::function<void(double share)>& progress);

}  // namespace tripline::study
