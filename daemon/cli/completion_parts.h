// What the completions of all shells have in common.
#pragma once

#include "daemon/cli/outline.h"

#include <string>
#include <vector>

namespace tripline::cli {

/// What can stand for an option's value or a positional.
enum class Completes : unsigned char { nothing, file, word };
Completes completes(const OptionOutline& option);

/// The words of Completes::word: choices, or keys of the configuration with "=".
std::vector<std::string> words_for(const OptionOutline& option);

/// The command and all below it, each before its own.
std::vector<CommandOutline> with_all_below(const CommandOutline& command);

std::string joined(const std::vector<std::string>& words, const std::string& by);

/// In single quotes, as sh, zsh and (with its own rule) fish take them.
std::string sh_quoted(const std::string& text);
std::string fish_quoted(const std::string& text);

}  // namespace tripline::cli
