// What the programs tell the shell.
#pragma once

#include <array>

namespace tripline::cli {

enum class ExitCode : int {
    good = 0,
    limits_not_met = 1,
    refused = 2,
};

struct ExitCodeText {
    ExitCode code;
    const char* meaning;
};

/// For the help and the manual pages.
inline constexpr std::array exit_codes{
    ExitCodeText{ExitCode::good, "Done; every limit, if there are any, was met."},
    ExitCodeText{ExitCode::limits_not_met, "Done, and a limit was not met."},
    ExitCodeText{ExitCode::refused,
                 "The usage, the input or the configuration is wrong, or it could not be done."}};

}  // namespace tripline::cli
