// What kept the key closed until the longest over cut it.
#pragma once

#include "daemon/explain/account.h"

#include <string>

namespace tripline::explain {

/// For a transmission that ended by too_long: how much of it was voice, its longest pause, and what was heard at the end.
/// Sentences, indented.
std::string held_in_words(const replay::Spell& spell, const Account& account, const station::Settings& settings);

}  // namespace tripline::explain
