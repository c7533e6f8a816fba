// A recording explained: all its transmissions, or one moment.
#pragma once

#include "daemon/explain/account.h"
#include "daemon/explain/remedy.h"

#include <string>

namespace tripline::explain {

/// Each transmission: why it began and why it ended.
std::string all_in_words(const Account& account, const station::Settings& settings);

/// One moment, and what would have changed it. `account` has the hops of a second around it.
/// Replays the subject many times over, up to that moment. Throws as replay::play() does.
std::string moment_in_words(const Account& account, Duration at, const Subject& subject);

}  // namespace tripline::explain
