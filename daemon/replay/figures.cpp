#include "daemon/replay/figures.h"

namespace tripline::replay {
namespace {

double percent(double part, double whole) { return whole > 0 ? 100 * part / whole : 0; }

}  // namespace

std::optional<Distribution> distribution_ms(const std::vector<Duration>& values) {
    if (values.empty()) return std::nullopt;
    return Distribution{to_ms(percentile(values, 0.50)), to_ms(percentile(values, 0.95)),
                        to_ms(percentile(values, 1.0))};
}

std::vector<Duration> on_air(const Score& score, const Timing& timing) {
    std::vector<Duration> values = score.onset;
    for (Duration& value : values) value += timing.relay - timing.look_ahead;
    return values;
}

double lost_percent(const Score& score) {
    return percent(to_seconds(score.lost), to_seconds(score.speech));
}

double clipped_percent(const Score& score) { return percent(score.clipped, score.overs - score.missed); }

}  // namespace tripline::replay
