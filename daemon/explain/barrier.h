// What kept the station off the air however loud the voice was.
#pragma once

#include "daemon/explain/account.h"

#include <string>

namespace tripline::explain {

/// Why the station could not key at a hop, whatever was heard; empty if it could. Sentences, indented.
std::string barrier_in_words(const Hop& hop, const Account& account, const station::Settings& settings);

/// What helps where no setting of the gate would have made a difference at a hop: in mode safe, locked out, or
/// withheld after an unmute; empty elsewhere. Sentences, indented.
std::string cure_in_words(const Hop& hop, const Account& account, const station::Settings& settings);

}  // namespace tripline::explain
