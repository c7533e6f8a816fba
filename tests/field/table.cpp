#include "tests/field/table.h"

#include "daemon/replay/figures.h"
#include "daemon/text/print.h"

#include <cmath>
#include <map>

namespace tripline::field {

std::string table_head() {
    return "| scenes | overs | missed | false keys | held on | torn | onset p50 / p95 / max ms | lost % | "
           "clipped % | over 0.5 % lost with 60 ms look-ahead | cost |\n|---|---|---|---|---|---|---|---|---|---|---|\n";
}

std::string table_line(const std::string& name, const Outcome& outcome) {
    const replay::Score& s = outcome.score;
    const auto onset = replay::distribution_ms(s.onset);
    return "| " + name + print(" | %d | %d | %d | %d | %d | ", s.overs, s.missed, s.false_keys, s.held_on, s.torn) +
           (onset ? print("%.1f / %.1f / %.1f", onset->p50, onset->p95, onset->max) : "-") +
           print(" | %.3f | %.1f | %d | %.4f |\n", replay::lost_percent(s), replay::clipped_percent(s),
                 outcome.short_ahead, s.detection.cost());
}

namespace {

/// What of an outcome is above its ceiling.
std::string above(const Outcome& outcome, const OnRecord& ceiling, const char* name) {
    const replay::Score& s = outcome.score;
    const auto onset = replay::distribution_ms(s.onset);
    std::string text;
    const auto check = [&](const char* what, std::optional<double> found, const std::optional<double>& limit) {
        if (!limit || (found && *found <= *limit)) return;
        text += print("%s %s, %s %g; ", what, found ? print("%g", *found).c_str() : "not measured", name, *limit);
    };
    check("missed", static_cast<double>(s.missed), static_cast<double>(ceiling.missed));
    check("false keys", static_cast<double>(s.false_keys), static_cast<double>(ceiling.false_keys));
    check("held on", static_cast<double>(s.held_on), static_cast<double>(ceiling.held_on));
    check("torn", static_cast<double>(s.torn), static_cast<double>(ceiling.torn));
    check("onset p50 ms", onset ? std::optional(onset->p50) : std::nullopt, ceiling.onset_p50_ms);
    check("onset p95 ms", onset ? std::optional(onset->p95) : std::nullopt, ceiling.onset_p95_ms);
    check("speech lost %", replay::lost_percent(s), ceiling.lost_percent);
    return text;
}

}  // namespace

std::string shortfall(const Row& row, const Outcome& outcome) {
    const Target& target = row.target;
    return above(outcome,
                 {.onset_p50_ms = target.onset_p50_ms,
                  .onset_p95_ms = target.onset_p95_ms,
                  .lost_percent = target.lost_percent},
                 "target");
}

std::string setback(const Row& row, const Outcome& outcome) {
    OnRecord ceiling = row.on_record;
    if (!ceiling.onset_p50_ms) ceiling.onset_p50_ms = row.target.onset_p50_ms;
    if (!ceiling.onset_p95_ms) ceiling.onset_p95_ms = row.target.onset_p95_ms;
    if (!ceiling.lost_percent) ceiling.lost_percent = row.target.lost_percent;
    return above(outcome, ceiling, "on record");
}

std::string onset_table(const Outcome& outcome) {
    std::map<int, std::vector<Duration>> steps;
    for (const Onset& onset : outcome.onsets) {
        steps[static_cast<int>(std::floor(onset.first_50_ms.value / 5)) * 5].push_back(onset.delay);
    }
    std::string text = "| first 50 ms, dB to the active level | overs | onset p50 / p95 / max ms |\n|---|---|---|\n";
    for (const auto& [level, delays] : steps) {
        const auto d = replay::distribution_ms(delays);
        text += print("| %d to %d | %zu | %.1f / %.1f / %.1f |\n", level, level + 5, delays.size(), d->p50,
                      d->p95, d->max);
    }
    return text;
}

}  // namespace tripline::field
