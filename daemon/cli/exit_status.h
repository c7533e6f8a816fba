// The foot of a help: what the exit status of a command means.
#pragma once

#include "daemon/cli/exit_codes.h"

#include <span>
#include <string>

namespace tripline::cli {

inline std::string exit_status_text(std::span<const ExitCodeText> codes) {
    std::string text = "Exit status:";
    for (const auto& code : codes) {
        text += "\n  " + std::to_string(static_cast<int>(code.code)) + "  " + code.meaning;
    }
    return text;
}

}  // namespace tripline::cli
