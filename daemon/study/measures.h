// Settings from takes of the station's own sound.
#pragma once

#include "daemon/black_box/black_box.h"

#include <functional>
#include <string>

namespace tripline::study {

/// `request`: {"room":[from,to],"receiver":[...],"voice":[...],"soft":[...]}, seconds of the stream, the last
/// may be missing; a station without receiver audio has no "receiver". The answer is a JSON object:
///   troubles    what is wrong with the takes, a sentence each with its cure
///   measured    a line a figure
///   distances   of each its name, what was found, what is needed, a cure where it is too small
///   changes     settings that differ from those in force, as key, from and to
///   replayed    what the sound kept does when replayed with the settings found, a line each
///   good        whether no take has trouble, all distances are enough, and the replay keys for the voice alone
/// `progress` may throw, to end it. Throws Refusal, and what the survey throws.
std::string measures(const black_box::KeptSound& kept, const std::string& request,
                     const std::function<void(double share)>& progress);

}  // namespace tripline::study
