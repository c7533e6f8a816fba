#include "daemon/replay/decision.h"

#include "daemon/station/names.h"
#include "daemon/text/print.h"

namespace tripline::replay {

using station::State;

void Decision::take(const station::Event& event) {
    if (event.kind != station::EventKind::state) return;
    const bool on_the_way = event.to == State::muting ||
                            (event.to == State::antenna_to_transmit && event.from != State::muting) ||
                            (event.to == State::settling && event.from != State::antenna_to_transmit);
    if (!on_the_way) return;
    at = event.at;
    why = event.reason;
    heard = event.heard;
}

bool has_margin(const dsp::Measures& measures) {
    constexpr float least_db = -100;
    return measures.threshold > 0 && margin_db(measures) > least_db;
}

std::string in_words(station::Reason why, const dsp::Heard& heard) {
    if (why == station::Reason::forced) return "forced";
    const dsp::Measures& m = heard.measures;
    const std::string margin = has_margin(m) ? print("margin %.1f dB", static_cast<double>(margin_db(m)))
                                             : std::string("nothing left to compare with it");
    return print("%s (%s): microphone %.1f dBFS, threshold %.1f dBFS, ", std::string(station::name(why)).c_str(),
                 std::string(station::name(heard.cause)).c_str(), to_dbfs(m.microphone).value, to_dbfs(m.threshold).value) +
           margin;
}

}  // namespace tripline::replay
