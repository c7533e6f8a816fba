#include "daemon/replay/report.h"

#include "daemon/replay/figures.h"

#include <algorithm>

namespace tripline::replay {
namespace {

std::vector<Check> check(const Score& score, const Limits& limits) {
    const auto onset = distribution_ms(score.onset);
    std::vector<Check> checks;
    const auto add = [&](const char* figure, std::optional<double> found, const std::optional<double>& limit) {
        if (limit) checks.push_back({figure, found, *limit});
    };
    add("missed", score.missed, limits.missed);
    add("torn", score.torn, limits.torn);
    add("false_keys", score.false_keys, limits.false_keys);
    add("held_on", score.held_on, limits.held_on);
    const auto of_onset = [&](double Distribution::*figure) {
        return onset ? std::optional((*onset).*figure) : std::nullopt;
    };
    add("onset_p50_ms", of_onset(&Distribution::p50), limits.onset_p50_ms);
    add("onset_p95_ms", of_onset(&Distribution::p95), limits.onset_p95_ms);
    add("clipped_percent", clipped_percent(score), limits.clipped_percent);
    add("lost_percent", lost_percent(score), limits.lost_percent);
    add("cost", score.detection.cost(), limits.cost);
    return checks;
}

}  // namespace

bool Report::met() const {
    return std::ranges::all_of(checks, [](const Check& c) { return c.met(); });
}

Result total(const std::vector<Result>& files) {
    Result sum;
    if (files.empty()) return sum;
    sum.timing = files.front().timing;
    sum.score = Score{};
    for (const Result& file : files) {
        sum.length += file.length;
        sum.spells.insert(sum.spells.end(), file.spells.begin(), file.spells.end());
        if (!file.score) sum.score.reset();
        if (sum.score) *sum.score += *file.score;
    }
    return sum;
}

Report make_report(std::vector<Result> files, const Limits& limits) {
    const Result sum = total(files);
    return {std::move(files), sum.score ? check(*sum.score, limits) : std::vector<Check>{}};
}

}  // namespace tripline::replay
