// What the station itself did while a recording was made, beside what a replay makes of it.
#pragma once

#include "daemon/explain/account.h"

#include <string>
#include <vector>

namespace tripline::explain {

/// An account without hops of the events on record, for a recording of that rate and length.
Account lived_account(std::vector<station::Event> events, Hertz rate, Duration length);

/// How far a replay is what was lived.
struct Likeness {
    std::string text{};         ///< sentences; empty: nothing is known to differ
    bool worth_telling = true;  ///< what the replay says of the moment still is
};

/// From `at` on for `within`. A replay with the station's own commands lacks faults alone. `same_settings`: those of the replay were in force then, so that it would have to agree.
/// A command or fault no longer counts once both, the station and the replay, were at rest after it and before the moment.
Likeness likeness(const Account& lived, const Account& replayed, Duration at, Duration within, bool same_settings);

/// The commands of a station that began in mode safe and was in mode armed at a moment; none in any other case.
std::vector<station::Event> commands_until_armed(const Account& lived, Duration at);

/// The commands and faults that a replay does not have, up to a time: "safe at 12.153 s, armed at 16.200 s"; or empty.
std::string missing_in_a_replay(const Account& lived, Duration until);

}  // namespace tripline::explain
