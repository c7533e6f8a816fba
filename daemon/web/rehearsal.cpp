#include "daemon/web/rehearsal.h"

#include <algorithm>

namespace tripline::web {
namespace {

/// The threshold the station would have had. What lay above its lowest one (noise, other
/// sounds of the room) stays; at the lowest one, only the noise floor is known to lie beneath.
double threshold_of(const dsp::Measures& m, const Trial& trial) {
    constexpr double rounding_db = 0.1;
    const double seen = to_dbfs(m.threshold).value;
    const double lowest = trial.now.open.value;
    if (trial.now.threshold == dsp::Threshold::fixed) return lowest;
    const double above_floor = to_dbfs(m.floor).value + trial.now.above_floor.value;
    const double moved = trial.now.above_floor.value - trial.then.above_floor.value;
    if (seen > trial.then.open.value + rounding_db) return std::max(lowest, seen + moved);
    return std::max(lowest, above_floor);
}

/// Kept off by something other than the threshold.
bool barred(dsp::Cause cause) {
    using enum dsp::Cause;
    return cause == blanked || cause == withheld || cause == not_speech || cause == steady || cause == not_finite;
}

/// Microphone less the leak, as the station's margin has it.
double own_level(const dsp::Measures& m) { return to_dbfs(m.remainder).value; }

}  // namespace

std::vector<std::pair<Frames, Frames>> rehearse(std::span<const audio::LevelFrame> frames, const Trial& trial, Hertz rate) {
    const Frames hold = to_frames(trial.hold, rate);
    std::vector<std::pair<Frames, Frames>> spells;
    bool open = false;
    Frames until{-1};
    for (const audio::LevelFrame& frame : frames) {
        const double over = own_level(frame.heard.measures) - threshold_of(frame.heard.measures, trial);
        const bool may = frame.mode == station::Mode::armed && !barred(frame.heard.cause);
        open = may && over > (open ? -trial.now.hysteresis.value : 0.0);
        if (open) {
            if (frame.at > until || spells.empty()) spells.emplace_back(frame.at, frame.at);
            until = frame.at + hold;
            spells.back().second = until;
        }
    }
    if (!spells.empty()) spells.back().second = std::min(spells.back().second, frames.back().at);
    return spells;
}

}  // namespace tripline::web
