// Completions for the shells, from the same outline as the manual pages.
#pragma once

#include "daemon/cli/outline.h"

#include <string>
#include <vector>

namespace tripline::cli {

using Programs = std::vector<CommandOutline>;

std::string bash_completion(const Programs& programs);
std::string zsh_completion(const Programs& programs);
std::string fish_completion(const Programs& programs);

}  // namespace tripline::cli
