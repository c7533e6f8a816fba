// A recording explained: all its transmissions, or one moment.
#pragma once

#include "daemon/explain/account.h"
#include "daemon/explain/remedy.h"
#include "daemon/explain/silence.h"

#include <cstdint>
#include <string>

namespace tripline::explain {

/// Each transmission: why it began and why it ended.
std::string all_in_words(const Account& account, const station::Settings& settings);

/// Whether settings that would have changed it are sought: not where the replay is not what happened.
enum class Cures : std::uint8_t { sought, none };

/// One moment, and what would have changed it. `account` has the hops of a second around it, or of all of it.
/// Replays the subject many times over for cures, up to that moment. Throws as replay::play() does.
std::string moment_in_words(const Account& account, const Moment& moment, const Subject& subject, Cures cures = Cures::sought);

}  // namespace tripline::explain
