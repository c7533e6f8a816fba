#include "daemon/prove/comparison.h"

#include "config/value.h"

#include <algorithm>
#include <cmath>

namespace tripline::prove {
namespace {

const char* word(Trend trend) {
    switch (trend) {
        case Trend::worse: return "worse";
        case Trend::better: return "better";
        case Trend::added: return "new";
        case Trend::gone: return "gone";
    }
    return "";
}

/// As the baseline keeps it.
double thousandths(double value) { return std::round(value * 1000) / 1000 + 0.0; }

void compare_figures(const Verdict& now, const std::map<std::string, double>& before,
                     std::vector<Change>& changes) {
    const auto figures = figures_of(*now.result.score);
    for (const Figure& figure : figures) {
        const auto known = before.find(figure.name);
        if (known == before.end()) continue;
        const double value = thousandths(figure.value);
        if (std::abs(value - known->second) <= figure.tolerance) continue;
        const auto trend = value > known->second ? Trend::worse : Trend::better;
        changes.push_back({now.name, figure.name, trend, known->second, value});
    }
    for (const auto& [name, value] : before) {
        const bool known = std::ranges::any_of(figures, [&name = name](const Figure& f) { return f.name == name; });
        if (!known) changes.push_back({now.name, name, Trend::gone, value, 0});
    }
}

}  // namespace

std::vector<Change> compare(const Baseline& before, const Verdicts& now) {
    std::vector<Change> changes;
    for (const Verdict& verdict : now) {
        if (!verdict.judged()) continue;
        const auto known = before.find(verdict.name);
        if (known == before.end()) {
            changes.push_back({verdict.name, {}, Trend::added});
        } else {
            compare_figures(verdict, known->second, changes);
        }
    }
    for (const auto& [name, figures] : before) {
        const bool judged = std::ranges::any_of(
            now, [&name = name](const Verdict& verdict) { return verdict.name == name && verdict.judged(); });
        if (!judged) changes.push_back({name, {}, Trend::gone});
    }
    return changes;
}

std::string to_string(const Change& change) {
    const std::string text = change.recording + ": " + word(change.trend);
    if (change.figure.empty()) return text;
    if (change.trend == Trend::gone) return text + ": " + change.figure;
    return text + ": " + change.figure + ' ' + config::to_toml(change.now) + ", was " +
           config::to_toml(change.before);
}

}  // namespace tripline::prove
