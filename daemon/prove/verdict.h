// What became of one recording of a suite.
#pragma once

#include "daemon/replay/report.h"

#include <string>
#include <vector>

namespace tripline::prove {

struct Verdict {
    std::string name;
    std::string error;       ///< why it could not be replayed; empty: it was, and the rest holds
    replay::Result result;   ///< with a score
    std::vector<replay::Check> checks;
    Duration took{};         ///< to replay it

    bool judged() const { return error.empty(); }
    /// Judged, and no limit broken.
    bool met() const;
};

using Verdicts = std::vector<Verdict>;

/// One figure of a score; less is better.
struct Figure {
    const char* name;
    double value = 0;
    double tolerance = 0;  ///< a change up to this is none
};

/// The figures that are compared with a baseline; without those of the onset when none was measured.
std::vector<Figure> figures_of(const replay::Score& score);

}  // namespace tripline::prove
