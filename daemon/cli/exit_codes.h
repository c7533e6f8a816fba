// What the programs tell the shell. The manual pages list these.
#pragma once

namespace tripline::cli {

enum class ExitCode : int {
    good = 0,
    limits_not_met = 1,  ///< all went well, but a limit asked for was not kept
    refused = 2,         ///< usage, input or configuration is wrong
};

}  // namespace tripline::cli
