#include "daemon/explain/levels.h"

#include "daemon/replay/decision.h"
#include "daemon/text/print.h"

#include <cmath>

namespace tripline::explain {
namespace {

constexpr double nothing_dbfs = -120;
constexpr double same_level_db = 0.1;

double dbfs(Power power) { return to_dbfs(power).value; }

bool same(double a, double b) { return std::abs(a - b) < same_level_db; }

std::string leak_in_words(const dsp::Measures& m) {
    if (dbfs(m.leak) < nothing_dbfs) return "none of it could be the receiver";
    if (dbfs(m.receiver) < nothing_dbfs) return print("the receiver, silent by now, could still be %.1f dBFS of it", dbfs(m.leak));
    return print("the receiver, at %.1f dBFS, could be %.1f dBFS of it", dbfs(m.receiver), dbfs(m.leak));
}

}  // namespace

bool held_up_by_others(const dsp::Measures& m, const dsp::GateSettings& gate) {
    const double threshold = dbfs(m.threshold);
    return gate.threshold == dsp::Threshold::floating && !same(threshold, gate.open.value) &&
           !same(threshold, dbfs(m.floor) + gate.above_floor.value);
}

std::string threshold_in_words(const dsp::Measures& m, const dsp::GateSettings& gate) {
    const double threshold = dbfs(m.threshold);
    const std::string open = print("gate.open_dbfs = %g", gate.open.value);
    if (gate.threshold == dsp::Threshold::fixed) return open;
    if (same(threshold, gate.open.value)) return open + ", the lowest it goes";
    if (same(threshold, dbfs(m.floor) + gate.above_floor.value)) {
        return print("the room's noise of %.1f dBFS and gate.above_floor_db = %g", dbfs(m.floor),
                     gate.above_floor.value);
    }
    return print("the other sounds of the room, heard before or expected at the start (its noise is at %.1f dBFS)", dbfs(m.floor));
}

bool leak_takes_all(const dsp::Measures& m) {
    return !replay::has_margin(m) && dbfs(m.leak) >= nothing_dbfs;
}

bool leak_takes_most(const dsp::Measures& m) { return dbfs(m.leak) >= nothing_dbfs && 2 * m.leak >= m.microphone; }

std::string levels_in_words(const dsp::Measures& m, const dsp::GateSettings& gate) {
    const auto margin = static_cast<double>(margin_db(m));
    const std::string stood = replay::has_margin(m)
                                  ? print("what was left stood %.1f dB %s the threshold", std::abs(margin),
                                          margin >= 0 ? "over" : "under")
                                  : std::string("nothing was left to stand against the threshold");
    return print("  The microphone was at %.1f dBFS; ", dbfs(m.microphone)) + leak_in_words(m) + ";\n  " + stood +
           print(" of %.1f dBFS,\n  which came from ", dbfs(m.threshold)) + threshold_in_words(m, gate) + ".\n";
}

}  // namespace tripline::explain
