// This run against a baseline.
#pragma once

#include "daemon/prove/baseline.h"

#include <string>
#include <vector>

namespace tripline::prove {

enum class Trend : unsigned char {
    worse,
    better,
    added,  ///< the baseline does not know the recording
    gone,   ///< the baseline knows a recording, or a figure, that was not judged now
};

/// What is not as it was.
struct Change {
    std::string recording;
    std::string figure;  ///< empty: the whole recording
    Trend trend = Trend::worse;
    double before = 0;
    double now = 0;

    /// Nothing gets worse, and nothing that was proved drops out unnoticed.
    bool allowed() const { return trend == Trend::better || trend == Trend::added; }
};

/// In the order of the verdicts; what is gone comes last. Changes within a figure's tolerance
/// are none.
std::vector<Change> compare(const Baseline& before, const Verdicts& now);

/// "evening: worse: missed 1, was 0"; without newline.
std::string to_string(const Change& change);

}  // namespace tripline::prove
