// Why the key opened.
#pragma once

#include "daemon/explain/account.h"

#include <string>

namespace tripline::explain {

/// Sentences, indented; what would have kept the key closed if a longer hang time would.
std::string ending_in_words(const replay::Spell& spell, const Account& account, const station::Settings& settings);

}  // namespace tripline::explain
