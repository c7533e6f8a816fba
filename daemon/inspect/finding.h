// One thing that was looked at in an input.
#pragma once

#include <string>
#include <vector>

namespace tripline::inspect {

struct Finding {
    std::string what;      ///< "clipping"
    std::string channel;   ///< "microphone", "receiver" or "both"
    std::string figure;    ///< with its unit: "3.2 a minute"
    std::string limit;     ///< with its unit: "1.0 a minute at most"
    bool good = true;
    std::string cure;      ///< what to do about it when it is not good
};

using Findings = std::vector<Finding>;

}  // namespace tripline::inspect
