#include "tests/field/table.h"

#include "daemon/replay/figures.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <map>

namespace tripline::field {
namespace {

template <typename... Values>
std::string print(const char* format, Values... values) {
    std::array<char, 256> text{};
    std::snprintf(text.data(), text.size(), format, values...);
    return text.data();
}

}  // namespace

std::string table_head() {
    return "| scenes | overs | missed | false keys | held on | onset p50 / p95 / max ms | lost % | "
           "clipped % | cost |\n|---|---|---|---|---|---|---|---|---|\n";
}

std::string table_line(const std::string& name, const Outcome& outcome) {
    const replay::Score& s = outcome.score;
    const auto onset = replay::distribution_ms(s.onset);
    return "| " + name +
           print(" | %d | %d | %d | %d | %.1f / %.1f / %.1f | %.3f | %.1f | %.4f |\n", s.overs, s.missed,
                 s.false_keys, s.held_on, onset.p50, onset.p95, onset.max, replay::lost_percent(s),
                 replay::clipped_percent(s), s.detection.cost());
}

std::string shortfall(const Row& row, const Outcome& outcome) {
    const replay::Score& s = outcome.score;
    const auto onset = replay::distribution_ms(s.onset);
    std::string text;
    const auto check = [&](const char* what, double found, const std::optional<double>& limit) {
        if (limit && found > *limit) text += print("%s %g, target %g; ", what, found, *limit);
    };
    check("missed", s.missed, 0);
    check("false keys", s.false_keys, 0);
    check("held on", s.held_on, 0);
    check("onset p50 ms", onset.p50, row.target.onset_p50_ms);
    check("onset p95 ms", onset.p95, row.target.onset_p95_ms);
    check("speech lost %", replay::lost_percent(s), row.target.lost_percent);
    return text;
}

std::string onset_table(const Outcome& outcome) {
    std::map<int, std::vector<Duration>> steps;
    for (const Onset& onset : outcome.onsets) {
        steps[static_cast<int>(std::floor(onset.first_50_ms.value / 5)) * 5].push_back(onset.delay);
    }
    std::string text = "| first 50 ms, dB to the active level | overs | onset p50 / p95 / max ms |\n|---|---|---|\n";
    for (const auto& [level, delays] : steps) {
        const auto d = replay::distribution_ms(delays);
        text += print("| %d to %d | %zu | %.1f / %.1f / %.1f |\n", level, level + 5, delays.size(), d.p50,
                      d.p95, d.max);
    }
    return text;
}

}  // namespace tripline::field
