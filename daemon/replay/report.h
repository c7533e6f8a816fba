// What a replay found, for people and for programs.
#pragma once

#include "daemon/replay/score.h"

#include <optional>
#include <string>
#include <vector>

namespace tripline::replay {

/// One recording, or all of them.
struct Result {
    std::string file;
    Duration length{};
    Hertz rate{};
    std::vector<Spell> spells;
    Timing timing;
    std::optional<Score> score;   ///< with labels only
};

/// What has to be met. A limit that is not set is not checked.
struct Limits {
    std::optional<double> missed{};
    std::optional<double> torn{};
    std::optional<double> false_keys{};
    std::optional<double> held_on{};
    std::optional<double> onset_p50_ms{};
    std::optional<double> onset_p95_ms{};
    std::optional<double> clipped_percent{};
    std::optional<double> lost_percent{};
    std::optional<double> cost{};
};

/// One limit and what was found.
struct Check {
    std::string figure;
    std::optional<double> found{};  ///< none: there was nothing to measure, and the limit is not met
    double limit = 0;
    bool met() const { return found && *found <= limit; }
};

struct Report {
    std::vector<Result> files;
    std::vector<Check> checks;   ///< on the total
    bool met() const;
};

/// The sum of all files, with the timing of the first; no score unless each has one.
Result total(const std::vector<Result>& files);

/// Adds up and checks. Limits on labels are checked when all files have a score.
Report make_report(std::vector<Result> files, const Limits& limits);

/// {"files": [...], "total": {...}, "limits": [...], "met": true}, indented, with newline.
std::string to_json(const Report& report);

/// Plain text, 80 columns.
std::string to_text(const Report& report);

}  // namespace tripline::replay
