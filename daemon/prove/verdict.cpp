#include "daemon/prove/verdict.h"

#include "daemon/replay/figures.h"

#include <algorithm>

namespace tripline::prove {
namespace {

// Another compiler may round a filter differently and move a decision by a hop or two.
constexpr double two_hops_ms = 1.0;
constexpr double of_percent = 0.1;
constexpr double of_cost = 0.001;

}  // namespace

bool Verdict::met() const {
    return judged() && std::ranges::all_of(checks, [](const replay::Check& c) { return c.met(); });
}

std::vector<Figure> figures_of(const replay::Score& score) {
    std::vector<Figure> figures{{"missed", static_cast<double>(score.missed)},
                                {"torn", static_cast<double>(score.torn)},
                                {"false_keys", static_cast<double>(score.false_keys)},
                                {"held_on", static_cast<double>(score.held_on)},
                                {"clipped_percent", replay::clipped_percent(score), of_percent},
                                {"lost_percent", replay::lost_percent(score), of_percent},
                                {"cost", score.detection.cost(), of_cost}};
    if (const auto onset = replay::distribution_ms(score.onset)) {
        figures.push_back({"onset_p50_ms", onset->p50, two_hops_ms});
        figures.push_back({"onset_p95_ms", onset->p95, two_hops_ms});
    }
    return figures;
}

}  // namespace tripline::prove
